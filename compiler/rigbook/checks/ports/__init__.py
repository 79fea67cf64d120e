"""Checks of the group: ports, cables and names."""
