"""A part of the audience outside every box.

*What it finds*
An audience area of which more than a fifth (the limit `uncovered`) lies outside the nominal coverage of every main,
fill and delay box. Where that is not so: a main box that covers less than a fifth of the places nearest to it.

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

from rigbook.compute.aims import covered, own_points
from rigbook.compute.results import Results, results
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.graph.rig import Rig
from rigbook.text.phrase import phrase

SEVERITY = Severity.WARNING
YIELDS_TO = ("turned-on-its-side", "outside-room", "cable-too-short")
SETTINGS = ("uncovered",)
LEAST = 20.0
"""Share of its own places, in %, that a main box covers at the least (common practice)."""


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each area."""
    got = results(rig)
    most = 100 * got.limits["uncovered"]
    told = False
    for area in got.levels.by_area:
        if area.uncovered.value > most:
            told = True
            yield Finding(
                "audience-uncovered",
                SEVERITY,
                phrase(
                    "%(uncovered)s of `%(area)s` is outside every box's coverage",
                    uncovered=area.uncovered.text,
                    area=area.area.name,
                ),
                Label(area.area.record.span, phrase("a part of it is not covered")),
                tuple(
                    Label(s.box.unit.record.at("aim"), phrase("covers %(coverage)s", coverage=s.coverage.text))
                    for s in got.levels.covering
                )[:4],
                effect=phrase("people there hear a dull and distant sound"),
                remedy=phrase("turn or tilt the boxes as the Speakers page proposes, or add a fill"),
                objects=frozenset({area.area.name}),
            )
    if not told and got.levels.known:
        yield from _aside(got)


def _aside(got: Results) -> Iterator[Finding]:
    """Main boxes that cover little of the places nearest to them, while others cover these."""
    for source in got.levels.covering:
        box = source.box
        if box.helps or box.is_sub or not source.aim.said:
            continue
        share = covered(source, own_points(got.levels, source), 90.0 if box.unit.record.get("turned") else 0.0)
        if share.value < LEAST:
            yield Finding(
                "audience-uncovered",
                SEVERITY,
                phrase("`%(box)s` covers %(share)s of the places nearest to it", box=box.name, share=share.text),
                Label(
                    box.unit.record.at("aim"),
                    phrase("covers %(coverage)s, aimed past them", coverage=source.coverage.text),
                ),
                effect=phrase("people there hear the other side only, dull and distant"),
                remedy=phrase("turn or tilt `%(box)s` as the Speakers page proposes", box=box.name),
                objects=frozenset({box.name}),
            )
