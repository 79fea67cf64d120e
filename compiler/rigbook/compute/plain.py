"""Figures as plain data, for a document that others can compute on."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any, Final

from rigbook.compute.figure import Figure, Missing

DIGITS: Final = 9
"""Significant digits of a number: more than any figure is worth, and few enough to be alike on every machine, whose
mathematics may differ in the sixteenth.
"""
NOTHING: Final = 1e-12
"""What is smaller is what rounding left of 0, in every unit of the document; another machine leaves something else."""


def plain(value: Any) -> Any:
    """A figure, or a simple value, as plain data; numbers to `DIGITS` significant digits."""
    if isinstance(value, Figure):
        return {
            "value": plain(value.value),
            "unit": value.unit,
            "text": value.text,
            "formula": value.formula,
            "inputs": [{"name": n, "value": plain(v), "unit": u} for n, v, u in value.inputs],
            "assumptions": list(value.assumptions),
        }
    if isinstance(value, Missing):
        return {"missing": value.why}
    if isinstance(value, bool) or not isinstance(value, float):
        return [plain(v) for v in value] if isinstance(value, (tuple, list)) else value
    return 0.0 if abs(value) < NOTHING else float(f"{value:.{DIGITS}g}")


def row(thing: object, *names: str) -> dict[str, Any]:
    """Attributes of a thing as plain data, under their names."""
    return {name: plain(getattr(thing, name)) for name in names}


def rows(things: Iterable[object], *names: str) -> list[dict[str, Any]]:
    """The same for several things."""
    return [row(thing, *names) for thing in things]
