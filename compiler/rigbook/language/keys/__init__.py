"""The table of keys: every word of the language, one record each.

`plan.py` holds the top level; each of the others holds the groups below it that its name says. What validates, the
JSON Schema and the reference are all made from these records. A key is added by adding its record.
"""
