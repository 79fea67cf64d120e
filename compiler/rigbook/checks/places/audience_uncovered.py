"""A part of the audience outside every box.

*What it finds*
An audience area of which more than a fifth (the limit `uncovered`) lies outside the nominal coverage of every main,
fill and delay box.

*Why it matters on stage*
People there hear a dull, distant sound and the words least of all.

*Put it right*
Turn or tilt the boxes, or add a fill. The Speakers page shows where, and proposes an aim for each box.

*Fails*
    plan: 1
    show: Fails
    room:
      mix-position: 13 m out 1.2 m up
      audience: {floor: {from: 4 m left 3 m out, to: 4 m right 14 m out}}
      noise-limit: 97 dB
    units:
      desk: desk-16
      left: {kind: powered-top-12, at: 4 m left 1 m out 2.6 m up, aim: 80 deg left}
      right: {kind: powered-top-12, at: 4 m right 1 m out 2.6 m up, aim: 80 deg right}
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
Nominal coverage: between the −6 dB directions (IEC 60268-5); the share is common practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from rigbook.compute.results import results
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.graph.rig import Rig

SEVERITY = Severity.WARNING
YIELDS_TO = ("turned-on-its-side",)
SETTINGS = ("uncovered",)


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each area."""
    got = results(rig)
    most = 100 * got.limits["uncovered"]
    for area in got.levels.by_area:
        if area.uncovered.value > most:
            yield Finding(
                "audience-uncovered",
                SEVERITY,
                f"{area.uncovered.text} of `{area.area.name}` is outside every box's coverage",
                Label(area.area.record.span, "a part of it is not covered"),
                tuple(Label(s.box.unit.record.at("aim"), f"covers {s.coverage.text}") for s in got.levels.covering)[:4],
                effect="people there hear a dull and distant sound",
                remedy="turn or tilt the boxes as the Speakers page proposes, or add a fill",
                objects=frozenset({area.area.name}),
            )
