"""Subs of one feed with unlike polarity.

*What it finds*
Subs fed by the same bus, with the same delay, of which some are reversed and some are not.

*Why it matters on stage*
They push and pull against each other: in the middle of the room there is hardly any low end.

*Put it right*
Give all of them the same polarity. Where it is meant, as in a cardioid set, the reversed ones have a delay of their
own.

*Fails*
    plan: 1
    show: Fails
    units:
      desk: desk-16
      left, right: powered-top-12
      sub-1: powered-sub-18
      sub-2: {kind: powered-sub-18, settings: {in: {polarity: reversed}}}
    inputs: {1: {name: Bass, from: desk/line 1, di: di-passive, line: bass-guitar, source: bass, to: [main, subs]}}
    buses:
      main: {stereo: yes, low-cut: 100 Hz lr 24 dB/oct}
      subs: {high-cut: 100 Hz lr 24 dB/oct}
    outputs: {main left: desk/out 1, main right: desk/out 2, subs: desk/out 3}
    wiring:
      xlr: [desk/out 1 -> left/in, desk/out 2 -> right/in, desk/out 3 -> sub-1/in -> sub-2/in]

*Passes*
    plan: 1
    show: Passes
    units:
      desk: desk-16
      left, right: powered-top-12
      sub-1, sub-2: powered-sub-18
    inputs: {1: {name: Bass, from: desk/line 1, di: di-passive, line: bass-guitar, source: bass, to: [main, subs]}}
    buses:
      main: {stereo: yes, low-cut: 100 Hz lr 24 dB/oct}
      subs: {high-cut: 100 Hz lr 24 dB/oct}
    outputs: {main left: desk/out 1, main right: desk/out 2, subs: desk/out 3}
    wiring:
      xlr: [desk/out 1 -> left/in, desk/out 2 -> right/in, desk/out 3 -> sub-1/in -> sub-2/in]

*Source*
Superposition; common practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from rigbook.checks.loudspeakers._where import bus_of, listed, written
from rigbook.compute.crossovers import Part, parts
from rigbook.compute.results import results
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.findings.place import Span
from rigbook.graph.rig import Rig
from rigbook.text.phrase import counted, phrase

SEVERITY = Severity.WARNING


SAME_S = 0.0005
"""Delays nearer than this are the same (ours)."""


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each bus whose subs differ."""
    boxes = results(rig).boxes
    by_bus: dict[tuple[str, str], list[Part]] = {}
    for part in parts(boxes, boxes.subs):
        bus = bus_of(rig, part.leg)
        by_bus.setdefault((bus.desk, bus.name), []).append(part)
    for (_, name), group in by_bus.items():
        turned = [p for p in group if p.arrival.reversed]
        straight = [p for p in group if not p.arrival.reversed]
        clash = [(a, b) for a in turned for b in straight if abs(a.arrival.delay_s - b.arrival.delay_s) < SAME_S]
        if not clash:
            continue
        few = turned if len(turned) <= len(straight) else straight
        names = list(dict.fromkeys(p.box for p in few))
        yield Finding(
            "sub-polarity-differs",
            SEVERITY,
            counted(
                len(names),
                "%(names)s has another polarity than the other subs of `%(name)s`",
                "%(names)s have another polarity than the other subs of `%(name)s`",
                names=listed(names),
                name=name,
            ),
            Label(_where(rig, clash[0][0]), phrase("polarity is turned here")),
            tuple(
                Label(rig.plan.units[p.box].span, phrase("a sub of the same bus")) for p in group if p.box not in names
            )[:1],
            effect=phrase("the subs cancel each other in the middle of the room"),
            remedy=phrase("give %(names)s the polarity of the others", names=listed(names)),
            objects=frozenset(p.box for p in group),
        )


def _where(rig: Rig, part: Part) -> Span:
    at = next(at for at, p in part.arrival.stages if p.reversed)
    return written(rig, part.leg, at, "polarity")
