"""Checks of the group: what the reader and the resolver find; text only, nothing to run."""
