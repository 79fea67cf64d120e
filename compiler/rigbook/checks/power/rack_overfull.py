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

from rigbook.compute.results import results
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.graph.rig import Rig
from rigbook.text.phrase import phrase

SEVERITY = Severity.ERROR


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each thing that sticks out."""
    for rack in results(rig).racks:
        for item in rack.items:
            if rack.units is not None and item.high > rack.units:
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
                    (Label(rack.rack.record.at("kind"), phrase("%(units)s rack units", units=rack.units)),),
                    effect=phrase("`%(item)s` does not go into the rack", item=item.name),
                    remedy=phrase("move it down or to another rack, or use a higher one"),
                    objects=frozenset({item.name, rack.rack.name}),
                )
