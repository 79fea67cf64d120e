"""A box that turns its back on the audience it is there for.

*What it finds*
A box with `covers`, all of whose area lies behind it or beside it.

*Why it matters on stage*
The places have a speaker on paper and none in the field; delays and levels are reckoned for a way that no sound takes.

*Put it right*
Look where the area, the box and its aim are typed: a unit of length, a digit, or the name of another area.

*Fails*
    plan: 1
    show: Fails
    room: {audience: {front: {from: 4 m left 3 m out, to: 4 m right 10 m out}}, mix-position: 9 m out}
    units:
      desk: desk-16
      top: {kind: powered-top-12, at: 0 m left 12 m out 2.6 m up, aim: out, tilt: 10 deg down, covers: front}
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main}}
    buses: {main: {}}
    outputs: {main: desk/out 1}
    wiring: {xlr: [desk/out 1 -> top/in]}

*Passes*
    plan: 1
    show: Passes
    room: {audience: {front: {from: 4 m left 3 m out, to: 4 m right 10 m out}}, mix-position: 9 m out}
    units:
      desk: desk-16
      top: {kind: powered-top-12, at: 0 m left 1 m out 2.6 m up, aim: out, tilt: 10 deg down, covers: front}
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main}}
    buses: {main: {}}
    outputs: {main: desk/out 1}
    wiring: {xlr: [desk/out 1 -> top/in]}

*Source*
Common practice.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from rigbook.compute.areas import Area
from rigbook.compute.places import Spot
from rigbook.compute.results import results
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.graph.rig import Rig
from rigbook.language.values.positions import Position
from rigbook.plan.model import Unit
from rigbook.text.phrase import phrase, quoted

SEVERITY = Severity.WARNING
YIELDS_TO = ("pair-uneven",)


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each area, with every box that turns its back on it."""
    got = results(rig)
    hidden: dict[str, tuple[Area, list[Unit]]] = {}
    for box in got.boxes.audience:
        spot, aim = got.places.unit(box.name), got.places.aim(box.unit)
        named = [a for a in got.levels.areas if a.name in box.unit.record.get("covers", ())]
        # an aim that could not be read is told already; straight out is then only a guess
        unread = "aim" in box.unit.record.broken
        if spot is not None and named and not unread and all(_behind(a, spot, aim.turn) for a in named):
            hidden.setdefault(named[0].name, (named[0], []))[1].append(box.unit)
    for area, units in hidden.values():
        yield _finding(rig, area, units)


def _behind(area: Area, spot: Spot, turn: float) -> bool:
    across, out = math.sin(math.radians(turn)), math.cos(math.radians(turn))
    return all((c.x - spot.x) * across + (c.y - spot.y) * out <= 0 for c in area.corners)


def _finding(rig: Rig, area: Area, units: list[Unit]) -> Finding:
    first, *rest = units
    buses = {rig.net.nodes[leg]["bus"].name for u in units for leg in rig.legs_of(u.name)}
    return Finding(
        "aimed-away",
        SEVERITY,
        phrase(
            "`%(area)s` lies behind what is there to cover it: %(boxes)s",
            area=area.name,
            boxes=quoted(u.name for u in units),
        ),
        Label(first.record.at("covers"), phrase("the area that it is there for")),
        (
            Label(area.record.span, phrase("this area")),
            *(Label(u.record.at("covers"), phrase("and here")) for u in rest[:3]),
        ),
        effect=phrase("nobody there hears %(boxes)s", boxes=quoted(u.name for u in units)),
        remedy=_remedy(rig, area, first),
        objects=frozenset({area.name, *buses, *(u.name for u in units)}),
    )


def _remedy(rig: Rig, area: Area, unit: Unit) -> str:
    """An area in other units of length than the box; another area that lies before it; else its aim."""
    got = results(rig)
    spot, turn = got.places.unit(unit.name), got.places.aim(unit).turn
    own = _lengths(unit.record.get("at"))
    odd = {u for key in ("from", "to") for u in _lengths(area.record.get(key))} - own
    if odd and own:
        return phrase("write the corners of `%(area)s` in `%(unit)s`, as the box is", area=area.name, unit=min(own))
    other = next((a.name for a in got.levels.areas if spot and not _behind(a, spot, turn)), "")
    if other:
        return phrase("write `%(line)s`, or turn the box", line=f"covers: {other}")
    return phrase("look where `%(area)s` and `%(box)s` are, and at its `aim:`", area=area.name, box=unit.name)


def _lengths(position: object) -> set[str]:
    """The units of length in which a place is typed."""
    if not isinstance(position, Position):
        return set()
    return {word for word in position.text.replace(",", " ").split() if word in ("m", "cm", "mm", "ft", "in", "yd")}
