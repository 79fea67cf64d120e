"""Unlike filters at one crossover.

*What it finds*
A high-cut of the subs and a low-cut of the mains of unlike kind or slope.

*Why it matters on stage*
They turn the phase by unlike amounts, so they do not add as meant where they meet.

*Put it right*
Give both the same kind and slope; Linkwitz-Riley with 24 dB per octave adds flat.

*Fails*
    plan: 1
    show: Fails
    units: {desk: desk-16, left: powered-top-12, right: powered-top-12, sub: powered-sub-18}
    inputs: {1: {name: Bass, from: desk/line 1, di: di-passive, line: bass-guitar, source: bass, to: [main, subs]}}
    buses:
      main: {stereo: yes, low-cut: 100 Hz butterworth 12 dB/oct}
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
S. Linkwitz, Active Crossover Networks for Noncoincident Drivers, JAES 24(1), 1976; common practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from rigbook.checks.loudspeakers._where import written
from rigbook.compute.crossovers import Crossover
from rigbook.compute.results import results
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.graph.rig import Rig
from rigbook.text.phrase import joined, phrase
from rigbook.units.quantity import Amount

SEVERITY = Severity.WARNING
YIELDS_TO = ("crossover-gap", "crossover-overlap")


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
            "slopes-differ",
            SEVERITY,
            phrase("mains begin with %(low)s, subs end with %(high)s", low=low.text, high=high.text),
            Label(written(rig, upper.leg, low_at, "low-cut"), phrase("another kind of filter than that of the subs")),
            (
                Label(
                    written(rig, lower.leg, high_at, "high-cut"),
                    phrase("`%(box)s` ends at %(high)s", box=lower.box, high=high.text),
                ),
            ),
            effect=phrase("mains and subs do not add as meant where they meet"),
            remedy=phrase("write both alike, such as `%(high)s`", high=_flat(pair)),
            objects=frozenset({upper.box, lower.box, *pair.also}),
        )


def _flat(pair: Crossover) -> str:
    """A filter that adds flat with itself as the polarities are: one of the two, else one of their frequency.

    Linkwitz-Riley of 24 or 48 dB/oct adds in phase, of 12 or 36 dB/oct with one side reversed (Linkwitz 1976); two
    Butterworth filters of 12 dB/oct cancel.
    """
    low, high = pair.upper.low_cuts[-1][1], pair.lower.high_cuts[-1][1]
    aside = 12 if pair.upper.arrival.reversed != pair.lower.arrival.reversed else 0
    both = (f for f in (high, low) if f.type == "linkwitz-riley" and f.slope and f.slope % 24 == aside)
    found = next(both, None)
    typed = (high.frequency.page(), "Linkwitz-Riley", Amount(str(aside or 24), "dB/oct"))
    return found.text if found else joined(typed, " ")


def _wrong(pair: Crossover) -> bool:
    if len(pair.upper.low_cuts) > 1 or len(pair.lower.high_cuts) > 1:
        return False  # `filtered-twice` speaks of it
    low, high = pair.upper.low_cuts[-1][1], pair.lower.high_cuts[-1][1]
    kinds = low.type and high.type and low.type != high.type
    slopes = low.slope and high.slope and low.slope != high.slope
    return bool(kinds or slopes)
