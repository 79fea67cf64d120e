"""Drawings: one a file, each a pure function to SVG text with a title, a description and links."""
