"""More than one person lifts.

*What it finds*
A rack without wheels that weighs more than 25 kg (the limit `lift`) for each person who carries it (`lifts`, one where
the plan is silent).

*Why it matters on stage*
Backs, toes and stairs.

*Put it right*
Write how many carry it, put it on wheels, or split it.

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
      amps: {kind: rack-12u, front: {1: vent 1 U, 2: amp}}

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
      amps: {kind: rack-12u, front: {1: vent 1 U, 2: amp}, lifts: 2}

*Source*
HSE (UK) INDG143, guideline figures, close to the body at waist height.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil

from rigbook.compute.results import results
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.graph.rig import Rig
from rigbook.text.phrase import phrase

SEVERITY = Severity.NOTE
YIELDS_TO = ("rack-heavy", "rack-overfull")
SETTINGS = ("lift",)


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each rack."""
    got = results(rig)
    most = got.limits["lift"]
    for rack in got.racks:
        if rack.rack.record.get("wheels") or rack.per_lifter.value <= most:
            continue
        people = ceil(rack.weight.value / most)
        said = rack.rack.record.get("lifts")
        yield Finding(
            "lift-by-two",
            SEVERITY,
            phrase(
                "`%(rack)s` weighs %(weight)s kg, %(each)s kg a person",
                rack=rack.rack.name,
                weight=f"{rack.weight.value:.0f}",
                each=f"{rack.per_lifter.value:.0f}",
            ),
            Label(
                rack.rack.record.at("lifts") if said else rack.rack.span,
                phrase("%(count)s to carry it", count=said or 1),
            ),
            effect=phrase("someone hurts their back"),
            remedy=phrase(
                "write `lifts: %(people)s`, put it on wheels and write `wheels: yes`, or split it", people=people
            ),
            objects=frozenset({rack.rack.name}),
        )
