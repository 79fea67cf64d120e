"""A hot rack without an opening for air.

*What it finds*
A rack whose units turn more than 300 W (the limit `rack-heat`) into heat with loud music, without a single vent or
free rack unit in front.

*Why it matters on stage*
Amplifiers cut out one after the other in the second half of a warm evening.

*Put it right*
Put vents or open space between the amplifiers.

*Fails*
    plan: 1
    show: Fails
    units:
      desk: desk-16
      amp: amplifier-2x500
      left, right: top-12
      hot: heater
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main}}
    buses: {main: {stereo: yes, limiter: +3 dBu}}
    outputs: {main left: desk/out 1, main right: desk/out 2}
    wiring:
      xlr: [desk/out 1-2 -> amp/in A-B]
      speaker-2.5-mm2: [amp/out A -> left, amp/out B -> right]
    racks:
      amps: {kind: rack-6u, front: {1: amp, 3: hot, 5: blank 2 U}, lifts: 2}
    kinds:
      heater:
        is: processor
        title: old processor
        ports: {in A: {connector: xlr-female, level: line, direction: in}}
        height: 2 U
        weight: 4 kg
        draw-idle: 250 W

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
Common practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from rigbook.compute.results import results
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.graph.rig import Rig
from rigbook.text.phrase import phrase

SEVERITY = Severity.WARNING
YIELDS_TO = ("rack-overfull", "rack-clash")
SETTINGS = ("rack-heat",)


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each rack."""
    got = results(rig)
    for rack in got.racks:
        if rack.units is None or rack.air.value or rack.heat.value <= got.limits["rack-heat"]:
            continue
        hottest = max(rack.items, key=lambda i: i.heat_w)
        yield Finding(
            "rack-no-air",
            SEVERITY,
            phrase(
                "`%(rack)s` gives off %(heat)s W and has no opening for air",
                rack=rack.rack.name,
                heat=f"{rack.heat.value:.0f}",
            ),
            Label(rack.rack.span, phrase("no vent and no free rack unit")),
            (Label(hottest.span, phrase("gives off %(heat)s W", heat=f"{hottest.heat_w:.0f}")),),
            effect=phrase("`%(hottest)s` cuts out on a warm evening", hottest=hottest.name),
            remedy=phrase("put `vent 1 U` above `%(hottest)s`", hottest=hottest.name),
            objects=frozenset({rack.rack.name}),
        )
