"""Unlike speakers on one amplifier channel.

*What it finds*
Speakers of unlike impedance, or a sub and a box that is no sub, on one amplifier channel.

*Why it matters on stage*
They do not share the power as meant: the lower impedance takes more, and one filter cannot suit both.

*Put it right*
Give each sort of speaker an amplifier channel of its own.

*Fails*
    plan: 1
    show: Fails
    units: {desk: desk-16, amp: amplifier-2x500, left: top-12, sub: sub-18, right: top-12}
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main}}
    buses: {main: {stereo: yes, limiter: +3 dBu, high-cut: 12 kHz}}
    outputs: {main left: desk/out 1, main right: desk/out 2}
    wiring:
      xlr: [desk/out 1-2 -> amp/in A-B]
      speaker-2.5-mm2: [amp/out A -> left, left/link -> sub, amp/out B -> right]

*Passes*
    plan: 1
    show: Passes
    units: {desk: desk-16, amp: amplifier-2x500, left: top-12, left-2: top-12, right: top-12}
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main}}
    buses: {main: {stereo: yes, limiter: +3 dBu}}
    outputs: {main left: desk/out 1, main right: desk/out 2}
    wiring:
      xlr: [desk/out 1-2 -> amp/in A-B]
      speaker-2.5-mm2: [amp/out A -> left, left/link -> left-2, amp/out B -> right]

*Source*
Ohm's law, Pi = U²/Zi; common practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from rigbook.checks.loudspeakers._where import listed
from rigbook.compute.results import results
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.graph.rig import Rig
from rigbook.text.phrase import phrase

SEVERITY = Severity.WARNING
YIELDS_TO = ("amp-underload", "bridge-misuse")


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each amplifier output with unlike speakers."""
    got = results(rig)
    for channel in got.amp_channels:
        boxes = [got.boxes.by_name[d.box] for d in channel.boxes if d.box in got.boxes.by_name]
        ohms = {d.impedance_ohm for d in channel.boxes}
        subs = {b.is_sub for b in boxes}
        if len(ohms) < 2 and len(subs) < 2:
            continue
        names = listed([b.name for b in boxes])
        yield Finding(
            "mixed-load",
            SEVERITY,
            phrase("a sub and a box that is no sub share `%(socket)s`", socket=channel.socket)
            if len(subs) > 1
            else phrase("speakers of unlike impedance share `%(socket)s`", socket=channel.socket),
            Label(
                rig.plan.units[channel.amplifier].span,
                phrase("output %(output)s drives %(names)s", output=channel.output[4:], names=names),
            ),
            tuple(Label(b.unit.span, phrase("on this channel")) for b in boxes),
            effect=phrase("they do not share the power as meant, and no one filter suits both"),
            remedy=phrase("give each sort of speaker an amplifier channel of its own"),
            objects=frozenset({channel.socket, channel.amplifier, *(d.box for d in channel.boxes)}),
        )
