"""A microphone that howls before it is loud enough.

*What it finds*
A placed microphone and a main box that plays it whose potential acoustic gain, less the stability margin of 6 dB (the
limit `stability-margin`), is below the gain needed.

*Why it matters on stage*
The voice cannot be brought up without ringing.

*Put it right*
Move the microphone nearer to its source, the box farther from the microphone or so that it radiates away from it, or
open fewer microphones.

*Fails*
    plan: 1
    show: Fails
    room:
      mix-position: 9 m out 1.2 m up
      audience: {floor: {from: 4 m left 3 m out, to: 4 m right 14 m out}}
      noise-limit: 97 dB
    units:
      desk: desk-16
      left: {kind: powered-column, at: 0.4 m left 0.1 m out 1.7 m up, aim: 30 deg right}
      right: {kind: powered-column, at: 0.4 m right 0.1 m out 1.7 m up, aim: 30 deg left}
    inputs:
      1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: speech, at: 0.05 m out 1.6 m up, to: main}
    buses: {main: {stereo: yes}}
    outputs: {main left: desk/out 1, main right: desk/out 2}
    wiring:
      xlr: [desk/out 1 -> left/in, desk/out 2 -> right/in]

*Passes*
    plan: 1
    show: Passes
    room:
      mix-position: 13 m out 1.2 m up
      audience: {floor: {from: 4 m left 3 m out, to: 4 m right 14 m out}}
      noise-limit: 97 dB
    units:
      desk: desk-16
      left: {kind: powered-top-12, at: 4 m left 1 m out 2.6 m up, aim: 15 deg right, tilt: 10 deg down}
      right: {kind: powered-top-12, at: 4 m right 1 m out 2.6 m up, aim: 15 deg left, tilt: 10 deg down}
    inputs:
      1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, at: 1 m back 1.6 m up, to: main}
    buses: {main: {stereo: yes}}
    outputs: {main left: desk/out 1, main right: desk/out 2}
    wiring:
      xlr: [desk/out 1 -> left/in, desk/out 2 -> right/in]

*Source*
G. Ballou (ed.), Handbook for Sound Engineers, ch. 34, (34-5), (34-8); the margin is common practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from rigbook.checks.places._say import Pair, grouped
from rigbook.compute.figure import value_of
from rigbook.compute.results import results
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.graph.rig import Rig
from rigbook.text.phrase import phrase
from rigbook.units.quantity import Amount

SEVERITY = Severity.WARNING
YIELDS_TO = ("behind-microphone",)
LEAST_DB = 0.05
"""Less is nought as printed."""
SETTINGS = ("stability-margin", "equivalent-distance")


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each microphone, or for each box, whichever is at fault."""
    got = results(rig)
    short = {(loop.channel.number, loop.box): loop for loop in got.loops if (value_of(loop.margin) or 0.0) < -LEAST_DB}
    pairs: list[Pair] = [(loop.channel, loop.microphone, loop.box) for loop in short.values()]
    for group in grouped(pairs):
        worst = min((short[c.number, box] for c, _, box in group), key=lambda loop: value_of(loop.margin) or 0.0)
        lacking = -(value_of(worst.margin) or 0.0)
        said = Amount(f"{lacking:.0f}" if lacking >= 1 else f"{lacking:.1f}")
        yield Finding(
            "feedback-margin",
            SEVERITY,
            phrase(
                "`%(channel)s` lacks %(said)s dB of gain before it rings with `%(box)s`",
                channel=worst.channel.name,
                said=said,
                box=worst.box,
            ),
            Label(
                worst.channel.record.at("at"),
                phrase("%(distance)s from `%(box)s`", distance=worst.distance, box=worst.box),
            ),
            (
                Label(
                    rig.plan.units[worst.box].record.at("at"),
                    phrase("%(angle)s° beside its axis", angle=worst.off_axis.amount),
                ),
            ),
            effect=phrase("`%(channel)s` cannot be brought up without howling", channel=worst.channel.name),
            remedy=phrase(
                "move `%(box)s` away from the microphone, or the microphone nearer to its source", box=worst.box
            ),
            objects=frozenset({b for _, _, b in group} | {f"channel {c.number}" for c, _, _ in group}),
        )
