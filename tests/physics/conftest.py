"""Property tests of this room: the same examples on every run, and no clock (a first import of a library is slow)."""

from __future__ import annotations

from hypothesis import settings

settings.register_profile("physics", deadline=None, derandomize=True)
settings.load_profile("physics")
