"""A sub without a high-cut.

*What it finds*
A sub that a bus reaches without any high-cut on the way: on the bus, the output, a processor, the amplifier or the box
itself.

*Why it matters on stage*
The sub plays voices and guitars: the sound is muddy, and it is heard where it stands.

*Put it right*
Write a high-cut at the bus or the output; where the sub has its own filter, write it as the setting of its input.

*Fails*
    plan: 1
    show: Fails
    units: {desk: desk-16, left: powered-top-12, right: powered-top-12, sub: powered-sub-18}
    inputs: {1: {name: Bass, from: desk/line 1, di: di-passive, line: bass-guitar, source: bass, to: [main, subs]}}
    buses:
      main: {stereo: yes, low-cut: 100 Hz lr 24 dB/oct}
      subs: {}
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
Common practice: mains and subs meet at about 100 Hz.
"""

from __future__ import annotations

from collections.abc import Iterator

from rigbook.checks.loudspeakers._where import bus_of, listed, unread
from rigbook.compute.crossovers import parts
from rigbook.compute.results import results
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.graph.rig import Rig
from rigbook.text.phrase import counted, phrase

SEVERITY = Severity.WARNING
YIELDS_TO = ("wrong-box", "swapped-sides", "mixed-load", "double-routed-speaker")


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each bus that reaches subs at full range."""
    boxes = results(rig).boxes
    found: dict[tuple[str, str], list[str]] = {}
    for part in parts(boxes, boxes.subs):
        if not part.high_cuts and not unread(rig, part.leg, "high-cut"):
            bus = bus_of(rig, part.leg)
            if bus.role != "effects":
                found.setdefault((bus.desk, bus.name), []).append(part.box)
    for key, hit in found.items():
        bus, names = rig.plan.buses[key], list(dict.fromkeys(hit))
        yield Finding(
            "sub-full-range",
            SEVERITY,
            phrase("`%(bus)s` reaches %(names)s at full range", bus=bus.name, names=listed(names)),
            Label(bus.span, phrase("no high-cut here or further on")),
            tuple(Label(rig.plan.units[n].span, phrase("a sub")) for n in names),
            effect=counted(
                len(names),
                "%(names)s plays voices, and the sound is muddy",
                "%(names)s play voices, and the sound is muddy",
                names=listed(names),
            ),
            remedy=phrase(
                "write `high-cut: 100 Hz lr 24 dB/oct` at `%(bus)s`, or at the output or socket where it is set",
                bus=bus.name,
            ),
            objects=frozenset(names),
        )
