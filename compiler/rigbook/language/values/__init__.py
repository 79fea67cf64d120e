"""Small grammars: texts such as `amp/out A -> top-left, 18 m` or `100 Hz lr 24 dB/oct`, read into records.

In: the text of one value and its span. Out: a record, or a `Problem` with the part of the text that is wrong.

Nothing here knows which names exist.
"""
