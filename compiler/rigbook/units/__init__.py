"""Units: numbers with their unit, read from text and written back.

In: text such as `18 m`, `-6 dB`, `2.5 mm2`, `12 AWG`. Out: a `Quantity` in SI with the text that was typed.

Knows nobody: no plan, no findings, no physics. A wrong text gives a `Problem` (words), never an exception.
"""
