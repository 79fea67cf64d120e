"""Physics: the formulas, one topic a file, as pure functions.

In: numbers in SI (the unit is in the parameter's name). Out: numbers in SI. Each docstring gives source, units,
shapes and range of validity; outside the range a function raises `OutOfRange`.

Knows nobody: no plan, no units room, no findings. Only the compute room calls it.
"""
