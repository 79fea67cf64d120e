"""The table of keys: every word of the language, one record each.

`plan.py` holds the top level; the others hold the groups below it. What validates, the JSON Schema and the
reference are all made from these records. A key is added by adding its record.
"""
