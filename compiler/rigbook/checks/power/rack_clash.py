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

from collections import Counter
from collections.abc import Iterator, Sequence
from itertools import combinations
from typing import Final

from rigbook.checks.power.rack_overfull import nearest_free
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
    """One finding for each pair on one side; of the two sides, for each unit that is too deep for what it meets."""
    for rack in results(rig).racks:
        inside = rack.rack.kind.get("inside-depth") if rack.rack.kind else None
        deep: list[tuple[Item, Item]] = []
        # what reaches above the top has been told, and what it meets on the way comes of that
        items = [i for i in rack.items if rack.units is None or i.high <= rack.units]
        for a, b in combinations(items, 2):
            if not meets(a, b):
                continue
            if a.side == b.side:
                message = phrase("`%(a)s` and `%(b)s` take the same rack unit", a=a.name, b=b.name)
                yield _finding(rack, (a,), b, message)
            elif inside is not None and a.depth_m and b.depth_m and a.depth_m + b.depth_m > inside.value:
                deep.append((a, b))
        while deep:
            # the unit that meets most is the one to move
            often = Counter(item for pair in deep for item in pair)
            one = max((item for a, b in deep for item in (b, a)), key=lambda item: often[item])
            met = [a if b == one else b for a, b in deep if one in (a, b)]
            deep = [pair for pair in deep if one not in pair]
            yield _finding(rack, met, one, _too_deep(met, one, inside))


def _place(item: Item) -> str:
    side = FRONT if item.side == "front" else REAR
    return phrase(side, low=item.low, high=item.high)


def _too_deep(met: Sequence[Item], one: Item, inside: object) -> str:
    deepest = max(met, key=lambda item: item.depth_m or 0.0)
    return phrase(
        "`%(a)s` and `%(b)s` are %(deep)s mm deep together, the rack has %(inside)s",
        a=deepest.name,
        b=one.name,
        deep=f"{((deepest.depth_m or 0.0) + (one.depth_m or 0.0)) * 1000:.0f}",
        inside=inside,
    )


def _finding(rack: RackFigures, met: Sequence[Item], b: Item, message: str) -> Finding:
    a = met[0]
    return Finding(
        "rack-clash",
        SEVERITY,
        message,
        Label(b.span, _place(b)),
        tuple(Label(item.span, _place(item)) for item in met),
        effect=phrase("`%(item)s` does not go in", item=b.name),
        remedy=phrase(
            "move `%(a)s` to rack unit %(free)s, which is free, or move `%(b)s`", a=b.name, b=a.name, free=free
        )
        if (free := nearest_free(rack, b) if a.side == b.side else 0)
        else phrase("move `%(a)s` or `%(b)s`", a=b.name, b=a.name),
        objects=frozenset({*(item.name for item in met), b.name, rack.rack.name}),
    )
