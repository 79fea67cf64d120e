"""A delay too short or too long.

*What it finds*
A fill or delay box whose delay is set so that it is heard before the box it helps, or later than the ear joins to one
sound (the limit `delay-latest`).

*Why it matters on stage*
Too short: the sound comes from the fill. Too long: every word is heard twice.

*Put it right*
Write the delay that the Speakers page computes from where the boxes stand.

*Fails*
    plan: 1
    show: Fails
    units:
      desk: desk-16
      left: {kind: powered-top-12, at: 4 m left 1 m out 2.6 m up, aim: 15 deg right, tilt: 10 deg down}
      right: {kind: powered-top-12, at: 4 m right 1 m out 2.6 m up, aim: 15 deg left, tilt: 10 deg down}
      rear: {kind: powered-delay-8, at: 0 m left 14 m out 2.6 m up, tilt: 15 deg down}
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: [main, rear]}}
    buses: {main: {stereo: yes}, rear: {role: delay, delay: 120 ms}}
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
H. Haas 1951, as drawn in Everest, Master Handbook of Acoustics, 4th ed., fig. 3-19: fusion up to 35 ms.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from rigbook.checks.loudspeakers._where import bus_of, written
from rigbook.compute.delays import Delay
from rigbook.compute.figure import value_of
from rigbook.compute.results import results
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.findings.place import Span
from rigbook.graph.arrivals import Arrival
from rigbook.graph.rig import Rig
from rigbook.text.phrase import phrase

SEVERITY = Severity.WARNING
YIELDS_TO = ("aimed-away", "cable-too-short")
SETTINGS = ("delay-latest", "delay-offset")
SET_MS, FIRST_MS = 0.05, 2.0
"""Less is no delay at all; a box heard no more than 2 ms too early is where it should be (ours)."""


AFTER: Final = phrase("`%(box)s` is heard %(ms)s ms after `%(helps)s`")
BEFORE: Final = phrase("`%(box)s` is heard %(ms)s ms before `%(helps)s`")


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each bus that feeds such boxes, at the box that is farthest off."""
    got = results(rig)
    worst: dict[str, Delay] = {}
    for delay in got.delays:
        later = value_of(delay.later)
        legs = got.boxes.by_name[delay.box].legs
        if later is None or not legs or not _wrong(delay, later, got.limits["delay-latest"] * 1000):
            continue
        name = bus_of(rig, legs[0]).name
        if name not in worst or abs(later) > abs(value_of(worst[name].later) or 0.0):
            worst[name] = delay
    for name, delay in worst.items():
        later = value_of(delay.later) or 0.0
        yield Finding(
            "delay-out-of-window",
            SEVERITY,
            phrase(
                AFTER if later > 0 else BEFORE,
                box=delay.box,
                ms=f"{abs(later):.0f}",
                helps=delay.helps,
            ),
            Label(_where(rig, got.boxes.ways[delay.box][0]), phrase("%(ms)s ms are set", ms=f"{delay.set_ms:.0f}")),
            (Label(rig.plan.units[delay.helps].span, phrase("the box it helps")),),
            effect=phrase("every word is heard twice")
            if later > 0
            else phrase("the sound comes from `%(box)s`", box=delay.box),
            remedy=phrase(
                "write `%(line)s` at `%(name)s`", line=f"delay: {value_of(delay.wanted) or 0.0:.0f} ms", name=name
            )
            if (value_of(delay.wanted) or 0.0) >= 0
            else phrase(
                "look where `%(box)s`, `%(helps)s` and the places between them are: no delay makes this right",
                box=delay.box,
                helps=delay.helps,
            ),
            # where no delay helps, a place is wrong: a cable that no longer reaches says so
            objects=frozenset({delay.box, name} if (value_of(delay.wanted) or 0.0) >= 0 else {delay.box}),
        )


def _wrong(delay: Delay, later: float, latest: float) -> bool:
    return abs(delay.set_ms) >= SET_MS and not -FIRST_MS <= later <= latest


def _where(rig: Rig, way: tuple[str, Arrival]) -> Span:
    """Where the delay of a way is written."""
    leg, arrival = way
    at = next((at for at, p in arrival.stages if p.delay), "")
    return written(rig, leg, at, "delay") if at else bus_of(rig, leg).span
