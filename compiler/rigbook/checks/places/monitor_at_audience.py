"""A stage monitor that points at the audience.

*What it finds*
A placed stage monitor whose aim is written and lies within 60° of straight out.

*Why it matters on stage*
The performer hears little, the first rows hear the monitor mix, and the sound from the stage blurs the mains.

*Put it right*
Aim it at the performer: `aim: back`, or `aim: at` the place.

*Fails*
    plan: 1
    show: Fails
    room:
      mix-position: 13 m out 1.2 m up
      audience: {floor: {from: 4 m left 3 m out, to: 4 m right 14 m out}}
      noise-limit: 97 dB
    units:
      desk: desk-16
      left: {kind: powered-top-12, at: 4 m left 1 m out 2.6 m up, aim: 15 deg right, tilt: 10 deg down}
      right: {kind: powered-top-12, at: 4 m right 1 m out 2.6 m up, aim: 15 deg left, tilt: 10 deg down}
      wedge: {kind: powered-wedge-12, at: 0 m left 0.2 m back 0.2 m up, aim: out}
    inputs:
      1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, at: 1 m back 1.6 m up, to: [main, mix-1]}
    buses: {main: {stereo: yes}, mix-1: {monitor-for: Voice}}
    outputs: {main left: desk/out 1, main right: desk/out 2, mix-1: desk/out 3}
    wiring:
      xlr: [desk/out 1 -> left/in, desk/out 2 -> right/in, desk/out 3 -> wedge/in]

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
      wedge: {kind: powered-wedge-12, at: 0 m left 0.2 m back 0.2 m up, aim: back, tilt: 40 deg up}
    inputs:
      1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, at: 1 m back 1.6 m up, to: [main, mix-1]}
    buses: {main: {stereo: yes}, mix-1: {monitor-for: Voice}}
    outputs: {main left: desk/out 1, main right: desk/out 2, mix-1: desk/out 3}
    wiring:
      xlr: [desk/out 1 -> left/in, desk/out 2 -> right/in, desk/out 3 -> wedge/in]

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


WIDE_DEG = 60.0
"""Farther from straight out it plays across the stage (ours)."""


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each monitor."""
    got = results(rig)
    for box in got.boxes.all:
        aim = got.places.aim(box.unit)
        if not box.to_stage or box.is_sub or not aim.said or box.unit.position is None:
            continue
        turn = abs((aim.turn + 180) % 360 - 180)
        if turn < WIDE_DEG:
            yield Finding(
                "monitor-at-audience",
                SEVERITY,
                phrase("the monitor `%(box)s` points at the audience", box=box.name),
                Label(box.unit.record.at("aim"), phrase("this is towards the audience")),
                effect=phrase("the performer hears little of `%(box)s`, and the first rows hear it well", box=box.name),
                remedy=phrase("write `aim: back`, or `aim: at` and the place of the performer"),
                objects=frozenset({box.name}),
            )
