"""A front row much louder than the mix position.

*What it finds*
An audience area whose first row gets more than 10 dB (the limit `front-row`) above the level at the mix position.

*Why it matters on stage*
Whoever mixes does not hear what the first row gets; at a lawful level at the desk it may be far above it in front.

*Put it right*
Raise the boxes, tilt them so that the first row lies beside their axis, move them back, or move the first row.

*Fails*
    plan: 1
    show: Fails
    room:
      mix-position: 24 m out 1.2 m up
      audience: {floor: {from: 4.5 m left 1.5 m out, to: 4.5 m right 14 m out}}
      noise-limit: 97 dB
    units:
      desk: desk-16
      left: {kind: powered-top-12, at: 4 m left 1 m out 1.8 m up}
      right: {kind: powered-top-12, at: 4 m right 1 m out 1.8 m up}
    inputs:
      1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, at: 1 m back 1.6 m up, to: main}
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
Direct sound by the inverse square law; the limit is common practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from rigbook.checks.places._say import mix_is_outside
from rigbook.compute.results import results
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.graph.rig import Rig
from rigbook.text.phrase import phrase

SEVERITY = Severity.WARNING
YIELDS_TO = ("audience-uncovered", "turned-on-its-side", "below-head-height", "outside-room", "level-structure")
SETTINGS = ("front-row",)


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each area."""
    got = results(rig)
    if not got.levels.known or mix_is_outside(rig):
        return
    mix = got.levels.spots[0][1]
    for area in got.levels.by_area:
        over = area.first_row.value - mix.value
        if over > got.limits["front-row"]:
            yield Finding(
                "front-row-level",
                SEVERITY,
                phrase(
                    "the first row of `%(area)s` gets %(over)s dB more than the %(mix)s",
                    area=area.area.name,
                    over=f"{over:.0f}",
                    mix=got.levels.mix[1],
                ),
                Label(
                    area.area.record.span,
                    phrase(
                        "%(first_row)s in the first row, %(mix)s at the %(mix_2)s",
                        first_row=area.first_row,
                        mix=mix,
                        mix_2=got.levels.mix[1],
                    ),
                ),
                effect=phrase("whoever mixes does not hear how loud it is in front"),
                remedy=phrase("raise the boxes and tilt them over the first row, or move the first row back"),
                objects=frozenset({area.area.name}),
            )
