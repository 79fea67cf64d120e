"""Places and level: where boxes and microphones stand, coverage, level over the audience."""
