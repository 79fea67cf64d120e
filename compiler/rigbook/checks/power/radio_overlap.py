"""Two carriers too near to each other.

*What it finds*
Two radio channels nearer to each other than the spacing of the plan (350 kHz where it is silent).

*Why it matters on stage*
The receivers hear each other: noise, drop-outs, or the wrong voice.

*Put it right*
Move one of the two. The Radio page proposes the nearest clean set.

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
      channels: {rx-1: {frequency: 606.5 MHz}, rx-2: {frequency: 606.7 MHz}, rx-3: {frequency: 608.8 MHz}}
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
Common practice; the spacing is that of the equipment.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from rigbook.compute.results import results
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.graph.rig import Rig
from rigbook.text.phrase import phrase
from rigbook.units.quantity import Amount

SEVERITY = Severity.ERROR
SAME: Final = phrase("`%(a)s` and `%(b)s` are on one frequency, the spacing is %(spacing)s kHz")
NEAR: Final = phrase("`%(a)s` and `%(b)s` are %(apart)s apart, the spacing is %(spacing)s kHz")


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each pair of neighbours."""
    radio = results(rig).radio
    for pair in radio.close:
        later = pair.b if pair.b.span > pair.a.span else pair.a
        other = pair.a if later is pair.b else pair.b
        place = next((f for c, f in radio.proposal if c is later and f is not None and f.value != c.hz / 1e6), None)
        yield Finding(
            "radio-overlap",
            SEVERITY,
            phrase(
                SAME if pair.apart.value < 0.5 else NEAR,
                a=other.name,
                b=later.name,
                apart=pair.apart,
                spacing=Amount(f"{radio.spacing_hz / 1000:g}"),
            ),
            Label(later.span, phrase("too near")),
            (Label(other.span, phrase("the other one")),),
            effect=phrase("the receivers hear each other"),
            remedy=phrase("move `%(carrier)s` to %(frequency)s", carrier=later.name, frequency=place)
            if place
            else phrase("move `%(carrier)s` by at least the spacing", carrier=later.name),
            objects=frozenset({later.name, other.name}),
        )
