"""A carrier outside what is allowed or tuned.

*What it finds*
A radio channel that, with its bandwidth, lies outside the bands that the plan allows, or outside what its receiver or
transmitter tunes to.

*Why it matters on stage*
It breaks the law of the place, or the equipment cannot be set to it.

*Put it right*
Choose a frequency inside. The bands are typed by the user; the licence and local law decide.

*Fails*
    plan: 1
    show: Fails
    units:
      desk: desk-16
      left, right: powered-top-12
      rx-1, rx-2, rx-3: radio-receiver
    inputs:
      1: {name: Voice, from: desk/line 1, source: vocal, to: main}
      2: {name: Guest, from: desk/line 2, source: vocal, to: main}
      3: {name: Host, from: desk/line 3, source: speech, to: main}
    buses: {main: {stereo: yes}}
    outputs: {main left: desk/out 1, main right: desk/out 2}
    wiring:
      xlr:
        - desk/out 1 -> left/in
        - desk/out 2 -> right/in
        - rx-1/out -> desk/line 1
        - rx-2/out -> desk/line 2
        - rx-3/out -> desk/line 3
    radio:
      channels: {rx-1: {frequency: 606.5 MHz}, rx-2: {frequency: 607.3 MHz}, rx-3: {frequency: 615.5 MHz}}
      bands: [606 MHz - 614 MHz]

*Passes*
    plan: 1
    show: Passes
    units:
      desk: desk-16
      left, right: powered-top-12
      rx-1, rx-2, rx-3: radio-receiver
    inputs:
      1: {name: Voice, from: desk/line 1, source: vocal, to: main}
      2: {name: Guest, from: desk/line 2, source: vocal, to: main}
      3: {name: Host, from: desk/line 3, source: speech, to: main}
    buses: {main: {stereo: yes}}
    outputs: {main left: desk/out 1, main right: desk/out 2}
    wiring:
      xlr:
        - desk/out 1 -> left/in
        - desk/out 2 -> right/in
        - rx-1/out -> desk/line 1
        - rx-2/out -> desk/line 2
        - rx-3/out -> desk/line 3
    radio:
      channels: {rx-1: {frequency: 606.5 MHz}, rx-2: {frequency: 607.3 MHz}, rx-3: {frequency: 608.8 MHz}}
      bands: [606 MHz - 614 MHz]

*Source*
The bands of the plan and the kinds.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from rigbook.compute.results import results
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.graph.rig import Rig
from rigbook.text.phrase import joined, phrase
from rigbook.units.quantity import Amount

SEVERITY = Severity.ERROR
YIELDS_TO = ("radio-overlap",)
ALLOWED: Final = phrase("`%(carrier)s` on %(frequency)s is outside the bands allowed here")
TUNED: Final = phrase("`%(carrier)s` on %(frequency)s is outside what the equipment tunes to")


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each carrier."""
    radio = results(rig).radio
    for carrier in radio.carriers:
        outside = radio.outside(carrier)
        if not outside:
            continue
        bands = radio.allowed if outside == "allowed" else carrier.bands
        words = joined(
            phrase("%(a)s to %(b)s MHz", a=Amount(f"{a / 1e6:g}"), b=Amount(f"{b / 1e6:g}")) for a, b in bands
        )
        other = (Label(radio.record.at("bands"), words),) if outside == "allowed" and radio.record else ()
        said = ALLOWED if outside == "allowed" else TUNED
        yield Finding(
            "radio-out-of-band",
            SEVERITY,
            phrase(
                said,
                carrier=carrier.name,
                frequency=carrier.frequency,
            ),
            Label(carrier.span, phrase("outside")),
            other,
            effect=phrase("it may not be used here")
            if outside == "allowed"
            else phrase("`%(carrier)s` cannot be set to it", carrier=carrier.name),
            remedy=phrase("choose a frequency within %(bands)s", bands=words),
            objects=frozenset({carrier.name}),
        )
