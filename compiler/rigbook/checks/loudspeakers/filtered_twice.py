"""The same cut twice on one way.

*What it finds*
Two low-cuts, or two high-cuts, within an octave of each other on the way to one speaker.

*Why it matters on stage*
The slope is twice as steep as meant and the phase turns twice: the box does not meet its neighbour.

*Put it right*
Keep the filter at one point: the bus, the output, the processor, or the box.

*Fails*
    plan: 1
    show: Fails
    units: {desk: desk-16, left: powered-top-12, right: powered-top-12, sub: powered-sub-18}
    inputs: {1: {name: Bass, from: desk/line 1, di: di-passive, line: bass-guitar, source: bass, to: [main, subs]}}
    buses:
      main: {stereo: yes, low-cut: 100 Hz lr 24 dB/oct}
      subs: {high-cut: 100 Hz lr 24 dB/oct}
    outputs:
      main left: {socket: desk/out 1, low-cut: 110 Hz lr 24 dB/oct}
      main right: {socket: desk/out 2, low-cut: 110 Hz lr 24 dB/oct}
      subs: desk/out 3
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
from itertools import pairwise
from math import log2
from types import MappingProxyType
from typing import Final

from rigbook.checks.loudspeakers._where import listed, written
from rigbook.compute.crossovers import parts
from rigbook.compute.results import results
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.findings.place import Span
from rigbook.graph.rig import Rig
from rigbook.text.phrase import phrase

SEVERITY = Severity.WARNING


NEAR_OCTAVES = 1.0
"""Farther apart they are two filters for two reasons, such as a crossover and a protection of the box (ours)."""

KEYS: Final = MappingProxyType({"low-cut": phrase("low-cut"), "high-cut": phrase("high-cut")})
MESSAGES: Final = MappingProxyType(
    {
        ("low-cut", False): phrase("%(names)s has two low-cuts: %(first)s and %(second)s"),
        ("low-cut", True): phrase("%(names)s have two low-cuts: %(first)s and %(second)s"),
        ("high-cut", False): phrase("%(names)s has two high-cuts: %(first)s and %(second)s"),
        ("high-cut", True): phrase("%(names)s have two high-cuts: %(first)s and %(second)s"),
    }
)


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each pair of points that cut the same."""
    boxes = results(rig).boxes
    found: dict[tuple[str, Span], tuple[Span, list[str], str, str]] = {}
    for part in parts(boxes, boxes.all):
        for key, cuts in (("low-cut", part.low_cuts), ("high-cut", part.high_cuts)):
            for (first_at, first), (second_at, second) in pairwise(cuts):
                if abs(log2(first.frequency.value / second.frequency.value)) > NEAR_OCTAVES:
                    continue
                here, there = written(rig, part.leg, second_at, key), written(rig, part.leg, first_at, key)
                row = found.setdefault((key, there), (here, [], first.text, second.text))
                if part.box not in row[1]:
                    row[1].append(part.box)
    for (key, there), (here, names, first_text, second_text) in found.items():
        yield Finding(
            "filtered-twice",
            SEVERITY,
            phrase(
                MESSAGES[key, len(names) > 1],
                names=listed(names),
                first=first_text,
                second=second_text,
            ),
            Label(here, phrase("the second %(key)s", key=KEYS[key])),
            (Label(there, phrase("the first %(key)s", key=KEYS[key])),),
            effect=phrase("the slope is steeper than meant, and the phase turns twice"),
            remedy=phrase("keep the %(key)s at one of the two points", key=KEYS[key]),
            objects=frozenset(names),
        )
