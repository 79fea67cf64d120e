"""What is said where there can be no paper; by itself, as a build without paper needs nothing else of this folder."""

from __future__ import annotations


class PaperError(Exception):
    """No PDF could be made; the message says why and what to do."""
