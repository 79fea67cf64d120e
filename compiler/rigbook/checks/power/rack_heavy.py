"""More weight than the rack carries.

*What it finds*
A rack whose contents weigh more than its kind may carry.

*Why it matters on stage*
Rails bend and handles tear out on the ramp.

*Put it right*
Spread the units over two racks, or use one that carries more.

*Fails*
    plan: 1
    show: Fails
    units:
      desk: desk-16
      amp: amplifier-2x500
      left, right: top-12
      amp-2, amp-3, amp-4, amp-5, amp-6: {kind: amplifier-2x900, spare: yes}
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main}}
    buses: {main: {stereo: yes, limiter: +3 dBu}}
    outputs: {main left: desk/out 1, main right: desk/out 2}
    wiring:
      xlr: [desk/out 1-2 -> amp/in A-B]
      speaker-2.5-mm2: [amp/out A -> left, amp/out B -> right]
    racks:
      amps: {kind: light, front: {1: amp-2, 3: amp-3, 5: amp-4, 7: amp-5, 9: amp-6, 11: amp}, lifts: 6}
    kinds:
      light: {is: rack, title: light rack, height: 14 U, load: 60 kg, weight: 20 kg}

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
The maker's rated load.
"""

from __future__ import annotations

from collections.abc import Iterator

from rigbook.compute.results import results
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.graph.rig import Rig
from rigbook.text.phrase import phrase

SEVERITY = Severity.WARNING


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each rack."""
    for rack in results(rig).racks:
        kind = rack.rack.kind
        load, own = (kind.get("load"), kind.get("weight")) if kind and kind.family == "rack" else (None, None)
        if load is None:
            continue
        held = rack.weight.value - (own.value if own is not None else 0.0)
        if held > load.value:
            yield Finding(
                "rack-heavy",
                SEVERITY,
                phrase(
                    "`%(rack)s` holds %(held)s kg, its kind carries %(load)s",
                    rack=rack.rack.name,
                    held=f"{held:.0f}",
                    load=load,
                ),
                Label(rack.rack.span, phrase("%(count)s things in it", count=len(rack.items))),
                (Label(rack.rack.record.at("kind"), phrase("carries %(load)s", load=load)),),
                effect=phrase("rails bend and handles tear out"),
                remedy=phrase("spread the units over two racks, or use one that carries more"),
                objects=frozenset({rack.rack.name}),
            )
