"""Checks of the group: text and publishing."""
