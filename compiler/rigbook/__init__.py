"""rigbook: compile a live-sound show plan into a checked, printable handbook."""

__version__ = "0.1.0"
