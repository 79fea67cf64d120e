"""Checks of the group: routing and signal flow."""
