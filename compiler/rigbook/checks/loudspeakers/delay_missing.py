"""A delay or fill box without delay.

*What it finds*
A placed fill or delay box that no delay is set for and that is heard before the box it helps.

*Why it matters on stage*
The sound comes from the fill instead of the stage, and the main sound behind it blurs or echoes.

*Put it right*
Write the delay at its bus or output; the Speakers page computes it from where the boxes stand.

*Fails*
    plan: 1
    show: Fails
    units:
      desk: desk-16
      left: {kind: powered-top-12, at: 4 m left 1 m out 2.6 m up, aim: 15 deg right, tilt: 10 deg down}
      right: {kind: powered-top-12, at: 4 m right 1 m out 2.6 m up, aim: 15 deg left, tilt: 10 deg down}
      rear: {kind: powered-delay-8, at: 0 m left 14 m out 2.6 m up, tilt: 15 deg down}
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: [main, rear]}}
    buses: {main: {stereo: yes}, rear: {role: delay}}
    outputs: {main left: desk/out 1, main right: desk/out 2, rear: desk/out 3}
    wiring:
      xlr: [desk/out 1 -> left/in, desk/out 2 -> right/in, desk/out 3 -> rear/in]

*Passes*
    plan: 1
    show: Passes
    units:
      desk: desk-16
      left: {kind: powered-top-12, at: 4 m left 1 m out 2.6 m up, aim: 15 deg right, tilt: 10 deg down}
      right: {kind: powered-top-12, at: 4 m right 1 m out 2.6 m up, aim: 15 deg left, tilt: 10 deg down}
      rear: {kind: powered-delay-8, at: 0 m left 14 m out 2.6 m up, tilt: 15 deg down}
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: [main, rear]}}
    buses: {main: {stereo: yes}, rear: {role: delay, delay: 47 ms}}
    outputs: {main left: desk/out 1, main right: desk/out 2, rear: desk/out 3}
    wiring:
      xlr: [desk/out 1 -> left/in, desk/out 2 -> right/in, desk/out 3 -> rear/in]

*Source*
Precedence effect (H. Haas 1951); common practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from rigbook.checks.loudspeakers._where import bus_of, unread
from rigbook.compute.delays import Delay
from rigbook.compute.figure import value_of
from rigbook.compute.results import results
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.graph.rig import Rig
from rigbook.text.phrase import phrase

SEVERITY = Severity.WARNING
SET_MS, FIRST_MS = 0.05, 2.0
"""Less is no delay at all; a box heard no more than 2 ms too early is where it should be (ours)."""


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each bus that feeds such boxes, at the box that is farthest off."""
    got = results(rig)
    worst: dict[str, Delay] = {}
    for delay in got.delays:
        later = value_of(delay.later)
        legs = got.boxes.by_name[delay.box].legs
        if later is None or not legs or not _wrong(delay, later, got.limits["delay-latest"] * 1000):
            continue
        if unread(rig, legs[0], "delay"):
            continue
        name = bus_of(rig, legs[0]).name
        if name not in worst or abs(later) > abs(value_of(worst[name].later) or 0.0):
            worst[name] = delay
    for name, delay in worst.items():
        later = value_of(delay.later) or 0.0
        yield Finding(
            "delay-missing",
            SEVERITY,
            phrase(
                "`%(box)s` is heard %(later)s ms before `%(helps)s`, no delay is set",
                box=delay.box,
                later=f"{-later:.0f}",
                helps=delay.helps,
            ),
            Label(rig.plan.units[delay.box].span, phrase("no delay on its way")),
            (Label(rig.plan.units[delay.helps].span, phrase("the box it helps")),),
            effect=phrase(
                "the sound comes from `%(box)s`, and `%(helps)s` comes after it like an echo",
                box=delay.box,
                helps=delay.helps,
            ),
            remedy=phrase(
                "write `%(line)s` at `%(name)s`", line=f"delay: {value_of(delay.wanted) or 0.0:.0f} ms", name=name
            ),
            objects=frozenset({delay.box, name}),
        )


def _wrong(delay: Delay, later: float, latest: float) -> bool:
    return abs(delay.set_ms) < SET_MS and later < -FIRST_MS
