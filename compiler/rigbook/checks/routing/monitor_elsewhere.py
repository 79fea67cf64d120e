"""A stage monitor that plays the mix of somebody else.

*What it finds*
A monitor that aims at a named place, hears a mix whose `monitor-for` says another one, and the mix that is for this
place is heard by a monitor that aims elsewhere.

*Why it matters on stage*
Two musicians hear each other's mix. Each asks for more, and every move makes it worse.

*Put it right*
Exchange the two cables, or the two outputs.

*Fails*
    plan: 1
    show: Fails
    places: {bass: 2 m left 2 m back, keys: 2 m right 2 m back}
    units:
      desk: desk-16
      wedge-1: {kind: powered-wedge-12, at: 2 m left 1 m back 0.5 m up, aim: at bass, tilt: 40 deg up}
      wedge-2: {kind: powered-wedge-12, at: 2 m right 1 m back 0.5 m up, aim: at keys, tilt: 40 deg up}
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: [mix-1, mix-2]}}
    buses: {mix-1: {monitor-for: Bass}, mix-2: {monitor-for: Keys}}
    outputs: {mix-1: desk/out 1, mix-2: desk/out 2}
    wiring: {xlr: [desk/out 1 -> wedge-2/in, desk/out 2 -> wedge-1/in]}

*Passes*
    plan: 1
    show: Passes
    places: {bass: 2 m left 2 m back, keys: 2 m right 2 m back}
    units:
      desk: desk-16
      wedge-1: {kind: powered-wedge-12, at: 2 m left 1 m back 0.5 m up, aim: at bass, tilt: 40 deg up}
      wedge-2: {kind: powered-wedge-12, at: 2 m right 1 m back 0.5 m up, aim: at keys, tilt: 40 deg up}
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: [mix-1, mix-2]}}
    buses: {mix-1: {monitor-for: Bass}, mix-2: {monitor-for: Keys}}
    outputs: {mix-1: desk/out 1, mix-2: desk/out 2}
    wiring: {xlr: [desk/out 1 -> wedge-1/in, desk/out 2 -> wedge-2/in]}

*Source*
Common practice.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from rigbook.checks.routing._say import names
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.graph.rig import Rig
from rigbook.plan.model import Bus
from rigbook.records import frozen
from rigbook.text.phrase import phrase

SEVERITY = Severity.WARNING
YIELDS_TO = ("orphan-output", "unfed-output", "double-routed-speaker", "two-into-one", "wrong-box", "main-in-monitor",
             "silent-speaker", "shared-output")  # fmt: skip


@frozen
class _Heard:
    """A monitor, the place it aims at, and the one mix that it hears."""

    box: str
    place: str
    bus: Bus


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for all monitors that have each other's mix: they were exchanged together."""
    wrong = [h for h in _monitors(rig) if not _for(h.bus, h.place)]
    pairs = [(h, o) for h in wrong if (o := next((o for o in wrong if _for(o.bus, h.place)), None)) is not None]
    if pairs:
        one, two = pairs[0]
        yield _finding(rig, one, two, [h.box for h, _ in pairs])


def _monitors(rig: Rig) -> Iterator[_Heard]:
    for box in rig.boxes:
        aim = rig.plan.units[box].aim
        buses = {id(b): b for leg in rig.legs_of(box) if isinstance(b := rig.net.nodes[leg]["bus"], Bus)}
        if aim is not None and aim.target and len(buses) == 1:
            bus = next(iter(buses.values()))
            if bus.role == "monitor" and bus.record.get("monitor-for"):
                yield _Heard(box, aim.target, bus)


def _for(bus: Bus, place: str) -> bool:
    """The mix says the place: `Guitar and singer left` is for `singer-left`, and for `guitar`."""
    said = set(re.findall(r"[^\W_]+", str(bus.record.get("monitor-for")).casefold()))
    return set(re.findall(r"[^\W_]+", place.casefold())) <= said


def _finding(rig: Rig, one: _Heard, two: _Heard, boxes: list[str]) -> Finding:
    more = [b for b in boxes if b not in (one.box, two.box)]
    return Finding(
        "monitor-elsewhere",
        SEVERITY,
        phrase(
            "`%(one)s` aims at `%(place)s` and hears `%(bus)s`, the mix for %(name)s",
            one=one.box,
            place=one.place,
            bus=one.bus.name,
            name=one.bus.record.get("monitor-for"),
        ),
        Label(rig.plan.units[one.box].record.at("aim"), phrase("aims here")),
        (
            Label(one.bus.record.at("monitor-for"), phrase("what it hears")),
            Label(
                rig.plan.units[two.box].record.at("aim"),
                phrase("`%(box)s` hears `%(bus)s`", box=two.box, bus=two.bus.name),
            ),
            *(Label(rig.plan.units[b].record.at("aim"), phrase("this one too hears another's")) for b in more[:3]),
        ),
        effect=phrase("%(boxes)s play each other's mixes", boxes=names(dict.fromkeys((one.box, two.box, *more)))),
        remedy=phrase(
            "exchange the cables to `%(one)s` and `%(two)s`, or the outputs of their mixes", one=one.box, two=two.box
        )
        if not more
        else phrase("exchange the lines to their amplifiers, or the outputs of the mixes, until each hears its own"),
        objects=frozenset({one.box, two.box, *more}),
    )
