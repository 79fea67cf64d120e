"""Language: a tree of text to records of values, by one table of keys.

In: a tree with places (`text/`). Out: `Record`s whose values are read and typed, and findings on every key and
value that could not be read.

One table (`keys/`) validates, makes the JSON Schema and makes the reference. Names are not resolved here: whether
a unit exists is the plan's business. Nothing here opens a file.
"""
