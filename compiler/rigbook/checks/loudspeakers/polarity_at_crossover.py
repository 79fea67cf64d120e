"""Mains and subs that cancel where they meet.

*What it finds*
A main box and a sub whose filters, polarity and delay leave a hole deeper than 6 dB around the crossover that the
other polarity would fill.

*Why it matters on stage*
The low end disappears just where both should add, and more level does not bring it back.

*Put it right*
Change the polarity of one of the two, at the bus or where it was turned.

*Fails*
    plan: 1
    show: Fails
    units: {desk: desk-16, left: powered-top-12, right: powered-top-12, sub: powered-sub-18}
    inputs: {1: {name: Bass, from: desk/line 1, di: di-passive, line: bass-guitar, source: bass, to: [main, subs]}}
    buses:
      main: {stereo: yes, low-cut: 100 Hz lr 24 dB/oct}
      subs: {high-cut: 100 Hz lr 24 dB/oct, polarity: reversed}
    outputs: {main left: desk/out 1, main right: desk/out 2, subs: desk/out 3}
    wiring:
      xlr: [desk/out 1 -> left/in, desk/out 2 -> right/in, desk/out 3 -> sub/in]

*Passes*
    plan: 1
    show: Passes
    units: {desk: desk-16, left: powered-top-12, right: powered-top-12, sub: powered-sub-18}
    inputs: {1: {name: Bass, from: desk/line 1, di: di-passive, line: bass-guitar, source: bass, to: [main, subs]}}
    buses:
      main: {stereo: yes, low-cut: 100 Hz lr 24 dB/oct}
      subs: {high-cut: 100 Hz lr 24 dB/oct}
    outputs: {main left: desk/out 1, main right: desk/out 2, subs: desk/out 3}
    wiring:
      xlr: [desk/out 1 -> left/in, desk/out 2 -> right/in, desk/out 3 -> sub/in]

*Source*
Superposition of the filters as written (S. Linkwitz, JAES 24(1), 1976); the boxes themselves are taken as flat.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from rigbook.checks.loudspeakers._where import written
from rigbook.checks.places._say import mix_is_outside
from rigbook.compute.crossovers import Crossover, Part
from rigbook.compute.results import results
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.findings.place import Span
from rigbook.graph.rig import Rig
from rigbook.text.phrase import phrase

SEVERITY = Severity.WARNING
YIELDS_TO = ("slopes-differ", "crossover-gap", "crossover-overlap", "filtered-twice")


HOLE_DB = -6.0
"""A hole this deep is heard at once (common practice)."""
WHOLLY_DB: Final = -40.0
"""A hundredth of the pressure: no room shows a deeper hole (ours)."""
BY_SO_MUCH: Final = phrase("`%(upper)s` and `%(lower)s` cancel where they meet, by %(hole)s dB")
WHOLLY: Final = phrase("`%(upper)s` and `%(lower)s` cancel wholly where they meet")


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each unlike pair of settings that cancels, where the mix is placed within the room."""
    if mix_is_outside(rig):
        return
    seen: set[object] = set()
    for pair in results(rig).crossovers:
        advice = pair.polarity_advice
        key = (pair.lower.arrival.reversed, pair.upper.arrival.reversed, pair.lower.leg)
        if _cut_twice(pair) or advice is None or not advice.invert or advice.hole_now_db > HOLE_DB or key in seen:
            continue
        seen.add(key)
        lower, upper = pair.lower, pair.upper
        here = _turned(rig, upper) or _turned(rig, lower) or written(rig, lower.leg, lower.high_cuts[-1][0], "high-cut")
        yield Finding(
            "polarity-at-crossover",
            SEVERITY,
            phrase(
                WHOLLY if advice.hole_now_db < WHOLLY_DB else BY_SO_MUCH,
                upper=upper.box,
                lower=lower.box,
                hole=f"{-advice.hole_now_db:.0f}",
            ),
            Label(here, phrase("out of polarity at the crossover")),
            (Label(written(rig, upper.leg, upper.low_cuts[-1][0], "low-cut"), phrase("where the main box begins")),),
            effect=phrase("the low end disappears just where mains and subs should add"),
            remedy=phrase("change the polarity of `%(lower)s` or of `%(upper)s`", lower=lower.box, upper=upper.box),
            objects=frozenset({lower.box, upper.box, *pair.also}),
        )


def _cut_twice(pair: Crossover) -> bool:
    """`filtered-twice` speaks of it."""
    return len(pair.upper.low_cuts) > 1 or len(pair.lower.high_cuts) > 1


def _turned(rig: Rig, part: Part) -> Span | None:
    """Where the polarity of a way is turned."""
    return next((written(rig, part.leg, at, "polarity") for at, p in part.arrival.stages if p.reversed), None)
