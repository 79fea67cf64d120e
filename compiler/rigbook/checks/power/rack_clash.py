"""Two things in one place of a rack.

*What it finds*
Two units or panels that take the same rack unit on the same side, or a unit in front and one at the rear that together
are deeper than the rack.

*Why it matters on stage*
One of them does not go in.

*Put it right*
Move one of the two.

*Fails*
    plan: 1
    show: Fails
    units:
      desk: desk-16
      amp: amplifier-2x500
      left, right: top-12
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main}}
    buses: {main: {stereo: yes, limiter: +3 dBu}}
    outputs: {main left: desk/out 1, main right: desk/out 2}
    wiring:
      xlr: [desk/out 1-2 -> amp/in A-B]
      speaker-2.5-mm2: [amp/out A -> left, amp/out B -> right]
    racks:
      amps: {kind: rack-6u, front: {1: vent 1 U, 2: amp, 3: drawer 2 U}, lifts: 2}

*Passes*
    plan: 1
    show: Passes
    units:
      desk: desk-16
      amp: amplifier-2x500
      left, right: top-12
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main}}
    buses: {main: {stereo: yes, limiter: +3 dBu}}
    outputs: {main left: desk/out 1, main right: desk/out 2}
    wiring:
      xlr: [desk/out 1-2 -> amp/in A-B]
      speaker-2.5-mm2: [amp/out A -> left, amp/out B -> right]
    racks:
      amps: {kind: rack-6u, front: {1: vent 1 U, 2: amp, 4: drawer 2 U}, lifts: 2}

*Source*
Geometry; heights by IEC 60297-3-100, depths by the kinds.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations
from typing import Final

from rigbook.compute.racks import Item, RackFigures, meets
from rigbook.compute.results import results
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.graph.rig import Rig
from rigbook.text.phrase import phrase

SEVERITY = Severity.ERROR
YIELDS_TO = ("rack-overfull",)
FRONT: Final = phrase("rack units %(low)s to %(high)s, front")
REAR: Final = phrase("rack units %(low)s to %(high)s, rear")


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each pair."""
    for rack in results(rig).racks:
        inside = rack.rack.kind.get("inside-depth") if rack.rack.kind else None
        for a, b in combinations(rack.items, 2):
            if not meets(a, b):
                continue
            deep = (a.depth_m or 0.0) + (b.depth_m or 0.0)
            if a.side == b.side:
                yield _finding(rack, a, b, phrase("`%(a)s` and `%(b)s` take the same rack unit", a=a.name, b=b.name))
            elif inside is not None and a.depth_m and b.depth_m and deep > inside.value:
                what = phrase(
                    "`%(a)s` and `%(b)s` are %(deep)s mm deep together, the rack has %(inside)s",
                    a=a.name,
                    b=b.name,
                    deep=f"{deep * 1000:.0f}",
                    inside=inside,
                )
                yield _finding(rack, a, b, what)


def _place(item: Item) -> str:
    side = FRONT if item.side == "front" else REAR
    return phrase(side, low=item.low, high=item.high)


def _finding(rack: RackFigures, a: Item, b: Item, message: str) -> Finding:
    return Finding(
        "rack-clash",
        SEVERITY,
        message,
        Label(b.span, _place(b)),
        (Label(a.span, _place(a)),),
        effect=phrase("`%(item)s` does not go in", item=b.name),
        remedy=phrase("move `%(a)s` or `%(b)s`", a=b.name, b=a.name),
        objects=frozenset({a.name, b.name, rack.rack.name}),
    )
