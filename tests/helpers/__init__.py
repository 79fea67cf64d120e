"""Test helpers: what more than one test file needs, and tools for developers. Never part of the package."""
