"""Findings: what is wrong with a plan, as data with a place, and the renderers of that data.

In: facts from any stage (a name, a severity, words, places). Out: records, and their text for a terminal,
for machines (JSON) and for code hosts (SARIF).

Nothing here knows what a cable is; nothing here raises for a user's mistake or reads a file.
"""
