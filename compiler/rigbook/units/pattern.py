"""Amounts as regular expressions, for what cannot call `parse`, such as the JSON Schema.

They take all that `parse` and `parse_range` take, and little else; how large an amount may be is beyond them. They are
written in what Python and ECMA-262 share, without anchors.
"""

from __future__ import annotations

import re
from functools import lru_cache

from rigbook.units.dimension import DIMENSIONS

NUMBER = r"(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)"
_ANY_SIGN = rf"[-+\u2212]?{NUMBER}"
_NO_LESS_THAN_NOUGHT = rf"(?:\+?{NUMBER}|[-\u2212](?:0+(?:\.0*)?|\.0+))"
_AWG = r"[Aa][Ww][Gg]"
_GAUGE = r"(?:[1-4]/0|[0-3]?[0-9]|40)"
_BETWEEN = r"(?:\s+(?:-|to)\s+|\s*[\u2013\u2014]\s*|-)"


@lru_cache(maxsize=64)
def amount_pattern(dimension: str) -> str:
    """What `parse` reads as an amount of a dimension: a number and one of its units."""
    out = rf"{_number(dimension)}\s*{_units(dimension)}"
    if dimension != "area":
        return out
    return rf"(?:{out}|{_AWG}\s*{_GAUGE}(?:\s*{_AWG})?|{_GAUGE}\s*{_AWG})"


@lru_cache(maxsize=64)
def range_pattern(dimension: str) -> str:
    """What `parse_range` reads as two amounts of a dimension; the first may leave its unit to the second."""
    return rf"{_number(dimension)}\s*{_units(dimension)}?{_BETWEEN}{_number(dimension)}\s*{_units(dimension)}"


def _number(dimension: str) -> str:
    return _ANY_SIGN if DIMENSIONS[dimension].least < 0 else _NO_LESS_THAN_NOUGHT


def _units(dimension: str) -> str:
    words = (w for u in DIMENSIONS[dimension].units if u.symbol != "AWG" for w in (u.symbol, *u.also))
    return f"(?:{'|'.join(_literal(w) for w in words)})"


def _literal(word: str) -> str:
    """A unit as it is typed; `re.escape` also escapes signs that ECMA-262 forbids to escape."""
    return re.sub(r"[\\^$.*+?()\[\]{}|]", r"\\\g<0>", word).replace(" ", r"\s+")
