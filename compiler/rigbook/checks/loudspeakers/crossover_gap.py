"""A hole between subs and mains.

*What it finds*
A high-cut of the subs that ends well before the low-cut of the mains begins: more than half an octave between their −6
dB ends.

*Why it matters on stage*
Part of the low end is missing: the bass sounds thin however loud the subs are.

*Put it right*
Bring both filters to one frequency.

*Fails*
    plan: 1
    show: Fails
    units: {desk: desk-16, left: powered-top-12, right: powered-top-12, sub: powered-sub-18}
    inputs: {1: {name: Bass, from: desk/line 1, di: di-passive, line: bass-guitar, source: bass, to: [main, subs]}}
    buses:
      main: {stereo: yes, low-cut: 180 Hz lr 24 dB/oct}
      subs: {high-cut: 100 Hz lr 24 dB/oct}
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
Common practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from rigbook.checks.loudspeakers._where import alike, written
from rigbook.compute.crossovers import Crossover
from rigbook.compute.figure import value_of
from rigbook.compute.results import results
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.graph.rig import Rig
from rigbook.text.phrase import phrase
from rigbook.units.quantity import Amount

SEVERITY = Severity.WARNING


GAP_OCTAVES = 0.5
"""Common practice."""


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each unlike pair of filters."""
    seen: set[tuple[str, str]] = set()
    for pair in results(rig).crossovers:
        (low_at, low), (high_at, high) = pair.upper.low_cuts[-1], pair.lower.high_cuts[-1]
        if (low.text, high.text) in seen or not _wrong(pair):
            continue
        seen.add((low.text, high.text))
        lower, upper = pair.lower, pair.upper
        yield Finding(
            "crossover-gap",
            SEVERITY,
            phrase(
                "subs end at %(high)s, mains begin at %(low)s: a gap of %(octaves)s octaves",
                high=high.frequency,
                low=low.frequency,
                octaves=Amount(f"{-_octaves(pair):.1f}"),
            ),
            Label(written(rig, upper.leg, low_at, "low-cut"), phrase("begins too high")),
            (
                Label(
                    written(rig, lower.leg, high_at, "high-cut"),
                    phrase("`%(box)s` ends at %(high)s", box=lower.box, high=high.text),
                ),
            ),
            effect=phrase("the low end has a hole between subs and mains"),
            remedy=phrase(
                "write the low-cut of `%(box)s` as %(high)s, or move both to one frequency",
                box=upper.box,
                high=high.text,
            ),
            objects=frozenset(alike(rig, low.text, high.text)),
        )


def _wrong(pair: Crossover) -> bool:
    return _octaves(pair) < -GAP_OCTAVES


def _octaves(pair: Crossover) -> float:
    return value_of(pair.overlap) or 0.0
