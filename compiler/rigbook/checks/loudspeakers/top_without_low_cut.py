"""A main box without a low-cut beside a sub.

*What it finds*
A main box that a bus reaches without any low-cut on the way, in a rig that has subs.

*Why it matters on stage*
Both play the low end: it booms, the main box runs out of travel, and the level of the low end cannot be set.

*Put it right*
Write a low-cut where the high-cut of the subs ends, at the bus, the output, a processor or the socket of the box.

*Fails*
    plan: 1
    show: Fails
    units: {desk: desk-16, left: powered-top-12, right: powered-top-12, sub: powered-sub-18}
    inputs: {1: {name: Bass, from: desk/line 1, di: di-passive, line: bass-guitar, source: bass, to: [main, subs]}}
    buses:
      main: {stereo: yes}
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
Common practice: mains and subs meet at about 100 Hz.
"""

from __future__ import annotations

from collections.abc import Iterator

from rigbook.checks.loudspeakers._where import bus_of, listed, unread
from rigbook.compute.boxes import Boxes
from rigbook.compute.crossovers import parts
from rigbook.compute.results import results
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.graph.rig import Rig
from rigbook.text.phrase import phrase

SEVERITY = Severity.WARNING
YIELDS_TO = ("wrong-box", "swapped-sides", "double-routed-speaker", "main-in-monitor")


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each bus that reaches main boxes uncut."""
    got = results(rig)
    boxes = got.boxes
    # `mixed-load` speaks of a sub that hangs on the channel of a main box
    mixed = {d.box for c in got.amp_channels if len({_is_sub(boxes, d.box) for d in c.boxes}) > 1 for d in c.boxes}
    ends = [cut.frequency for p in parts(boxes, boxes.subs) if p.box not in mixed for _, cut in p.high_cuts]
    if not ends:
        return
    found: dict[tuple[str, str], list[str]] = {}
    for part in parts(boxes, tuple(b for b in boxes.audience if b.is_main)):
        if not part.low_cuts and not unread(rig, part.leg, "low-cut"):
            bus = bus_of(rig, part.leg)
            found.setdefault((bus.desk, bus.name), []).append(part.box)
    for key, hit in found.items():
        bus, names = rig.plan.buses[key], list(dict.fromkeys(hit))
        yield Finding(
            "top-without-low-cut",
            SEVERITY,
            phrase(
                "`%(bus)s` reaches %(names)s without a low-cut, though there are subs",
                bus=bus.name,
                names=listed(names),
            ),
            Label(bus.span, phrase("no low-cut here or further on")),
            tuple(Label(b.unit.span, phrase("a sub")) for b in boxes.subs),
            effect=phrase("mains and subs both play the low end, and it booms"),
            remedy=phrase(
                "write `%(line)s` at `%(bus)s`, or where else it is set",
                line=f"low-cut: {ends[0]} lr 24 dB/oct",
                bus=bus.name,
            ),
            objects=frozenset(names),
        )


def _is_sub(boxes: Boxes, name: str) -> bool:
    return name in boxes.by_name and boxes.by_name[name].is_sub
