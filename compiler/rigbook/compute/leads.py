"""Mains cables from one distribution to the next, and whether they carry what the breaker before them lets through.

A lead of a single device is left out: it cannot be overloaded by what hangs on it (IEC 60364-4-43, 433.3, from memory).
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from rigbook.compute.feeds import carried
from rigbook.compute.figure import Figure, Result
from rigbook.compute.limits import Limits
from rigbook.plan.model import Cable, Plan, Unit
from rigbook.records import frozen
from rigbook.text.phrase import phrase


@frozen
class Lead:
    """A mains cable to a distribution."""

    cable: Cable
    to: str
    """The distribution at its end."""
    needs: Figure
    """What it must carry, A."""
    carries: Result


def leads(plan: Plan, circuit_of: Mapping[str, str], ratings: Mapping[str, float], limits: Limits) -> Iterator[Lead]:
    """Every mains cable to a distribution whose rating or breaker is known, in plan order."""
    for cable in plan.cables:
        unit = plan.units.get(cable.end.unit)
        area = cable.kind.get("area") if cable.kind else None
        if unit is None or unit.family != "power distribution" or area is None:
            continue
        known = [a for a in (_rating(unit), ratings.get(circuit_of.get(unit.name, ""))) if a is not None]
        if known:
            how = phrase("the smaller of the breaker of its circuit and the rating of what it leads to")
            needs = Figure(min(known), "A", how, tuple((phrase("rating"), a, "A") for a in known), (), 0)
            three = cable.kind is not None and any("three-phase" in str(e) for e in cable.kind.get("ends", ()))
            yield Lead(cable, unit.name, needs, carried(area, None, limits, 3 if three else 2))


def _rating(unit: Unit) -> float | None:
    typed = unit.kind.get("rating") if unit.kind else None
    return float(typed.value) if typed is not None else None
