"""A mix position or an audience area outside the room.

*What it finds*
A mix position, or a corner of an audience area, that lies farther out or farther to a side than the `size` of the room
reaches. The middle of the stage need not be the middle of the room, nor need the stage be counted in its depth: a
place is outside only where it is so either way.

*Why it matters on stage*
Levels, delays and cable runs are reckoned for a place that is not there: a digit too many is told nowhere else.

*Put it right*
Correct the place, or the size of the room.

*Fails*
    plan: 1
    show: Fails
    room: {size: 12 x 20 x 6 m, mix-position: 60 m out 1.2 m up}
    units: {desk: desk-16, left: powered-top-12}
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main}}
    buses: {main: {}}
    outputs: {main: desk/out 1}
    wiring: {xlr: [desk/out 1 -> left/in]}

*Passes*
    plan: 1
    show: Passes
    room: {size: 12 x 20 x 6 m, mix-position: 16 m out 1.2 m up}
    units: {desk: desk-16, left: powered-top-12}
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main}}
    buses: {main: {}}
    outputs: {main: desk/out 1}
    wiring: {xlr: [desk/out 1 -> left/in]}

*Source*
Common practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from rigbook.checks.places._say import outside
from rigbook.compute.places import Spot
from rigbook.compute.results import results
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.findings.place import Span
from rigbook.graph.rig import Rig
from rigbook.language.values.sizes import Size
from rigbook.text.phrase import phrase
from rigbook.units.quantity import Amount

SEVERITY = Severity.WARNING


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for the mix position and for each area."""
    got = results(rig)
    room = got.places.room
    size = room.get("size") if room else None
    if room is None or not isinstance(size, Size):
        return
    places: list[tuple[str, str, Span, tuple[Spot, ...]]] = []
    if got.places.mix is not None:
        places.append((phrase("the mix position"), "mix-position", room.at("mix-position"), (got.places.mix,)))
    for area in got.levels.areas:
        corners = tuple(s for key in ("from", "to") if (s := got.places.spot(area.record.get(key))) is not None)
        places.append((f"`{area.name}`", area.name, area.record.span, corners))
    for said, name, span, spots in places:
        if any(outside(spot, size) for spot in spots):
            yield Finding(
                "outside-room",
                SEVERITY,
                phrase(
                    "%(place)s lies outside the room, which is %(width)s m wide and %(depth)s m deep",
                    place=said,
                    width=Amount(f"{size.width:g}"),
                    depth=Amount(f"{size.depth:g}"),
                ),
                Label(span, phrase("farther than the room reaches")),
                (Label(room.at("size"), phrase("the size of the room")),),
                effect=phrase("levels, delays and cable runs are reckoned for a place that is not there"),
                remedy=phrase("correct the place, or the `size` of the room"),
                objects=frozenset({name}),
            )
