"""What sits in a rack unit: a unit's name, or `blank 1 U`, `vent 1 U`, `drawer 3 U`, `shelf 2 U`."""

from __future__ import annotations

import re

from rigbook.findings.place import Span
from rigbook.language.reading import Naming, Parsed
from rigbook.language.values.names import NAME, name_problem
from rigbook.records import frozen, replace
from rigbook.text.phrase import phrase
from rigbook.units.parse import Problem

FILLERS = ("blank", "vent", "drawer", "shelf", "lamp")


@frozen
class RackItem:
    """A unit by name, or a filler panel with its height in rack units."""

    unit: str
    filler: str
    height: int
    span: Span


def rack_item(text: str, span: Span) -> RackItem | Problem:
    """NAME, or FILLER HEIGHT `U`."""
    m = re.fullmatch(r"([a-z]+) ([1-9][0-9]?) ?U", text)
    if m and m.group(1) in FILLERS:
        return RackItem("", m.group(1), int(m.group(2)), span)
    wrong = name_problem(text)
    if wrong and wrong.instead is not None and not re.search(r"\bU\b", text):
        return replace(wrong, instead=RackItem(str(wrong.instead), "", 0, span))
    if wrong:
        fillers = ", ".join(f"`{f} 1 U`" for f in FILLERS)
        return Problem(
            phrase("`%(value)s` is neither a unit nor a panel", value=text),
            phrase("write a unit's name or %(fillers)s", fillers=fillers),
            0,
            len(text),
        )
    return RackItem(text, "", 0, span)


def rack_unit_problem(text: str) -> Problem | None:
    """What is wrong with a rack height used as a key, if anything."""
    if re.fullmatch(r"[1-9][0-9]?", text):
        return None
    return Problem(
        phrase("`%(value)s` is no rack unit", value=text),
        phrase("write the lowest rack unit it takes, counted from the bottom"),
        0,
        0,
    )


RACK_UNIT = Naming(rack_unit_problem, "^[1-9][0-9]?$")
_ITEM = rf"^(?:(?:{'|'.join(FILLERS)}) [1-9][0-9]? ?U|{NAME})$"
RACK_ITEM = Parsed(phrase("a unit or a panel such as `vent 1 U`"), rack_item, _ITEM, bare=True, name="rack-item")
