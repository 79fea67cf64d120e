"""A rack with more in it than it has room for.

*What it finds*
A unit or panel that reaches above the top of its rack.

*Why it matters on stage*
It does not go in, and that is found out at the load-in.

*Put it right*
Move it to another rack, or use a higher one.

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
      amps: {kind: rack-6u, front: {1: vent 1 U, 6: amp}, lifts: 2}

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
      amps: {kind: rack-6u, front: {1: vent 1 U, 2: amp}, lifts: 2}

*Source*
IEC 60297-3-100: 44.45 mm each.
"""

from __future__ import annotations

from collections.abc import Iterator

from rigbook.compute.racks import Item, RackFigures
from rigbook.compute.results import results
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.graph.rig import Rig
from rigbook.text.phrase import phrase, quoted

SEVERITY = Severity.ERROR


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each rack, at the first thing that sticks out."""
    for rack in results(rig).racks:
        over = [i for i in rack.items if rack.units is not None and i.high > rack.units]
        if rack.units is None or not over:
            continue
        item, *more = over
        free = nearest_free(rack, item) if not more else 0
        yield Finding(
            "rack-overfull",
            SEVERITY,
            phrase(
                "`%(item)s` needs rack units %(low)s to %(high)s, `%(rack)s` has %(units)s",
                item=item.name,
                low=item.low,
                high=item.high,
                rack=rack.rack.name,
                units=rack.units,
            ),
            Label(item.span, phrase("reaches above the top")),
            (
                *(Label(i.span, phrase("so does this")) for i in more),
                Label(rack.rack.record.at("kind"), phrase("%(units)s rack units", units=rack.units)),
            ),
            effect=phrase("%(items)s does not go into the rack", items=f"`{item.name}`")
            if not more
            else phrase("%(items)s do not go into the rack", items=quoted(i.name for i in over)),
            remedy=phrase("write it at rack unit %(free)s, which is free, or use a higher rack", free=free)
            if free
            else phrase("move it down or to another rack, or use a higher one"),
            objects=frozenset({rack.rack.name, *(i.name for i in over)}),
        )


def nearest_free(rack: RackFigures, item: Item) -> int:
    """The place on its side, nearest to where it is, where a thing would fit; 0 where there is none."""
    tall = item.high - item.low
    taken = {n for i in rack.items if i is not item and i.side == item.side for n in range(i.low, i.high + 1)}
    places = sorted(range(1, (rack.units or 0) - tall + 1), key=lambda low: abs(low - item.low))
    return next((low for low in places if not taken & set(range(low, low + tall + 1))), 0)
