"""Much louder in one seat than in another.

*What it finds*
An audience area whose middle 90 % differs by more than 10 dB (the limit `spread`) in A-weighted level of the direct
sound.

*Why it matters on stage*
No fader position suits everyone: loud enough at the rear is too loud in front.

*Put it right*
Raise and tilt the boxes so that their axis meets the last rows, or add delay boxes. The Speakers page shows the map.

*Fails*
    plan: 1
    show: Fails
    room:
      mix-position: 13 m out 1.2 m up
      audience: {floor: {from: 4 m left 4 m out, to: 4 m right 45 m out}}
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

from rigbook.compute.results import results
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.graph.rig import Rig
from rigbook.text.phrase import phrase

SEVERITY = Severity.WARNING
YIELDS_TO = (
    *("audience-uncovered", "turned-on-its-side", "front-row-level"),
    *("below-head-height", "outside-room", "level-structure"),
)
SETTINGS = ("spread",)


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each area."""
    got = results(rig)
    for area in got.levels.by_area:
        weighted = area.bands[0]
        if weighted.spread.value > got.limits["spread"]:
            yield Finding(
                "coverage-uneven",
                SEVERITY,
                phrase(
                    "the level over `%(area)s` differs by %(spread)s", area=area.area.name, spread=weighted.spread.text
                ),
                Label(
                    area.area.record.span,
                    phrase(
                        "%(lowest)s to %(highest)s at programme level", lowest=weighted.lowest, highest=weighted.highest
                    ),
                ),
                effect=phrase("loud enough in one seat is too loud in another"),
                remedy=phrase(
                    "aim the boxes at the last rows as the Speakers page proposes, raise them, or add delay boxes"
                ),
                objects=frozenset({area.area.name}),
            )
