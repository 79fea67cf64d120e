"""A box too heavy for its stand.

*What it finds*
A unit on a stand whose kind carries less than the unit weighs.

*Why it matters on stage*
The stand gives way with people beside it.

*Put it right*
Use a stand or lift that carries it, or stack it on the ground. The maker of the stand has the last word.

*Fails*
    plan: 1
    show: Fails
    units:
      desk: desk-16
      amp: amplifier-2x500
      left: {kind: top-long-throw, stand: sub-pole}
      right: top-long-throw
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main}}
    buses: {main: {stereo: yes, limiter: +3 dBu}}
    outputs: {main left: desk/out 1, main right: desk/out 2}
    wiring:
      xlr: [desk/out 1-2 -> amp/in A-B]
      speaker-2.5-mm2: [amp/out A -> left, amp/out B -> right]

*Passes*
    plan: 1
    show: Passes
    units:
      desk: desk-16
      amp: amplifier-2x500
      left, right: {kind: top-12, stand: speaker-stand}
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main}}
    buses: {main: {stereo: yes, limiter: +3 dBu}}
    outputs: {main left: desk/out 1, main right: desk/out 2}
    wiring:
      xlr: [desk/out 1-2 -> amp/in A-B]
      speaker-2.5-mm2: [amp/out A -> left, amp/out B -> right]

*Source*
The maker's rated load.
"""

from __future__ import annotations

from collections.abc import Iterator

from rigbook.compute.figure import value_of
from rigbook.compute.results import results
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.graph.rig import Rig
from rigbook.text.phrase import phrase

SEVERITY = Severity.ERROR


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each unit."""
    for item in results(rig).stood:
        weight, load = value_of(item.weight), value_of(item.load)
        if weight is None or load is None or weight <= load:
            continue
        name = item.unit.name
        yield Finding(
            "stand-overload",
            SEVERITY,
            phrase(
                "`%(name)s` weighs %(weight)s kg, `%(stand)s` carries %(load)s kg",
                name=name,
                weight=f"{weight:.0f}",
                stand=item.stand,
                load=f"{load:.0f}",
            ),
            Label(item.unit.record.at("stand"), phrase("carries %(load)s kg", load=f"{load:.0f}")),
            effect=phrase("the stand gives way"),
            remedy=phrase(
                "put `%(name)s` on a stand that carries at least %(weight)s kg, or on the ground",
                name=name,
                weight=f"{weight:.0f}",
            ),
            objects=frozenset({name}),
        )
