"""A cable that does not reach.

*What it finds*
A cable whose length is less than the straight distance between the places of its two ends.

*Why it matters on stage*
It is found out on the ladder, when everything else is laid.

*Put it right*
Write the length that the way takes, or look at the two places.

*Fails*
    plan: 1
    show: Fails
    units:
      desk: {kind: desk-16, at: 12 m out}
      top: {kind: powered-top-12, at: 4 m left 1 m out 2.6 m up}
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main}}
    buses: {main: {}}
    outputs: {main: desk/out 1}
    wiring: {xlr: ["desk/out 1 -> top/in, 2 m"]}

*Passes*
    plan: 1
    show: Passes
    units:
      desk: {kind: desk-16, at: 12 m out}
      top: {kind: powered-top-12, at: 4 m left 1 m out 2.6 m up}
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main}}
    buses: {main: {}}
    outputs: {main: desk/out 1}
    wiring: {xlr: ["desk/out 1 -> top/in, 20 m"]}

*Source*
Common practice.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from typing import NamedTuple

from rigbook.compute.results import results
from rigbook.compute.stock import owned, spans
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.findings.place import Span
from rigbook.graph.rig import Rig
from rigbook.plan.model import Cable
from rigbook.text.phrase import phrase
from rigbook.units.quantity import Amount

SEVERITY = Severity.WARNING
LEAST_M = 1.0
"""Places are typed by the metre: what lacks less may be how they are rounded (ours)."""
MANY = 3
"""Cables to one place that are too short, from which on the place is what is wrong (ours)."""


class Short(NamedTuple):
    """A cable that does not reach, in metres."""

    lacks: float
    cable: Cable
    apart: float
    way: float


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each line of wiring, at the cable that lacks most; one for a place that many do not reach."""
    worst: dict[Span, Short] = {}
    for cable, apart, way in spans(rig.plan, results(rig).places):
        lacks = apart - cable.length.value if cable.length is not None else 0.0
        if lacks > max(LEAST_M, worst[cable.span].lacks if cable.span in worst else 0.0):
            worst[cable.span] = Short(lacks, cable, apart, way)
    far = _far_off(rig, worst.values())
    if far:
        yield _misplaced(rig, far, [s for s in worst.values() if far in _ends(rig, s.cable)])
    for short in worst.values():
        if not far or far not in _ends(rig, short.cable):
            yield _too_short(rig, short)


def _too_short(rig: Rig, short: Short) -> Finding:
    cable = short.cable
    return Finding(
        "cable-too-short",
        SEVERITY,
        phrase(
            "`%(cable)s` is %(length)s long, its ends stand %(apart)s apart",
            cable=cable.name,
            length=cable.length,
            apart=Amount(f"{short.apart:.0f}", "m"),
        ),
        Label(cable.span, phrase("does not reach")),
        effect=phrase("it is found out when the rest is laid, and no longer one is at hand"),
        remedy=phrase("write about `%(length)s`, or look at the two places", length=f"{short.way:g} m"),
        objects=_about(rig, cable),
    )


def _misplaced(rig: Rig, place: str, shorts: list[Short]) -> Finding:
    """One wrong place, not all the cables to it."""
    thing = rig.plan.racks.get(place) or rig.plan.units[place]
    return Finding(
        "cable-too-short",
        SEVERITY,
        phrase("%(number)s cables do not reach `%(place)s` where it stands", number=len(shorts), place=place),
        Label(thing.record.at("at"), phrase("this place")),
        tuple(Label(s.cable.span, phrase("does not reach")) for s in shorts),
        effect=phrase("it is found out when the rest is laid, and no longer one is at hand"),
        remedy=phrase("look at the place of `%(place)s`, or take longer cables to it", place=place),
        # lengths that are reckoned from the place, and what stock they take, are no more to be believed
        objects=frozenset().union(*(_about(rig, s.cable) for s in shorts), {place}, owned(rig.plan)),
    )


def _far_off(rig: Rig, shorts: Iterable[Short]) -> str:
    """The rack or unit that most of the short cables end at, where they are many; empty where there is none."""
    ends = Counter(end for s in shorts for end in _ends(rig, s.cable))
    (place, number), *_ = ends.most_common(1) or [("", 0)]
    return place if number >= MANY else ""


def _ends(rig: Rig, cable: Cable) -> set[str]:
    """What stands at the two ends of a cable: a unit, or the rack that it sits in."""
    return {_stands(rig, s.unit) for s in (cable.start, cable.end)}


def _stands(rig: Rig, unit: str) -> str:
    if rig.plan.units[unit].position is not None:
        return unit
    racks = (r.name for r in rig.plan.racks.values() if any(i.unit == unit for _, i in (*r.front, *r.rear)))
    return next(racks, unit)


def _about(rig: Rig, cable: Cable) -> frozenset[str]:
    """The speakers at its ends, those further on, else the unit."""
    if cable.end.unit in rig.boxes:
        return frozenset({cable.end.unit, *({cable.start.unit} & set(rig.boxes))})
    boxes = rig.boxes_of(cable.end.id) if cable.end.id in rig.net else ()
    return frozenset(boxes) or frozenset({cable.end.unit})
