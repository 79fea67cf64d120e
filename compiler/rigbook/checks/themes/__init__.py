"""Explanations of what is found in a theme while a handbook is built; `handbook/` finds it."""
