"""Measurements of speed and memory against a floor of straight code; nothing here is part of the normal test run."""
