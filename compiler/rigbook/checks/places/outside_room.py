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

from rigbook.checks.places._say import SPARE_M, outside
from rigbook.compute.places import Spot
from rigbook.compute.results import results
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.findings.place import Span
from rigbook.graph.rig import Rig
from rigbook.language.values.sizes import Size
from rigbook.text.phrase import both, counted, phrase
from rigbook.units.quantity import Amount

SEVERITY = Severity.WARNING


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for everything that lies outside: where it is several things, the size is as likely to be wrong."""
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
    for box in rig.boxes:
        spot, unit = got.places.unit(box), rig.plan.units[box]
        if spot is not None and spot.z > size.height + SPARE_M:
            places.append((f"`{box}`", box, unit.record.at("at"), (Spot(0.0, 0.0, spot.z),)))
    wrong = [p for p in places if any(outside(s, size) or s.z > size.height + SPARE_M for s in p[3])]
    if wrong:
        yield _finding(wrong, room.at("size"), size)


def _finding(wrong: list[tuple[str, str, Span, tuple[Spot, ...]]], said: Span, size: Size) -> Finding:
    turned = Size(size.depth, size.width, size.height, size.text)
    fits = all(not outside(s, turned) and s.z <= size.height for _, _, _, spots in wrong for s in spots)
    line = f"size: {size.depth:g} x {size.width:g} x {size.height:g} m"
    return Finding(
        "outside-room",
        SEVERITY,
        counted(
            len(wrong),
            "%(places)s lies outside the room, which is %(width)s m wide, %(depth)s m deep and %(height)s m high",
            "%(places)s lie outside the room, which is %(width)s m wide, %(depth)s m deep and %(height)s m high",
            places=both(p for p, _, _, _ in wrong[:4]),
            width=Amount(f"{size.width:g}"),
            depth=Amount(f"{size.depth:g}"),
            height=Amount(f"{size.height:g}"),
        ),
        Label(wrong[0][2], phrase("farther than the room reaches")),
        (*(Label(p[2], phrase("this too")) for p in wrong[1:4]), Label(said, phrase("the size of the room"))),
        effect=phrase("levels, delays and cable runs are reckoned for a place that is not there"),
        remedy=phrase("write the `size` of the room the other way round: `%(line)s`", line=line)
        if fits
        else phrase("correct the place, or the `size` of the room"),
        objects=frozenset(name for _, name, _, _ in wrong),
    )
