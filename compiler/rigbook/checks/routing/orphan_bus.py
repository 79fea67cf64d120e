"""A bus that takes sends and has no way out.

*What it finds*
A bus, or one side of a stereo bus, that channels or buses are sent to, that leaves by no socket and goes to no other
bus.

*Why it matters on stage*
A mix is made with care and nobody hears it: a singer without a monitor, an effect that never comes back.

*Put it right*
Name its socket under `outputs`, or the bus it returns to with `to:`; take the sends out if it is not wanted.

*Fails*
    plan: 1
    show: Fails
    units: {desk: desk-16, left: powered-top-12}
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: [main, reverb -10 dB]}}
    buses: {main: {}, reverb: {role: effects}}
    outputs: {main: desk/out 1}
    wiring: {xlr: [desk/out 1 -> left/in]}

*Passes*
    plan: 1
    show: Passes
    units: {desk: desk-16, left: powered-top-12}
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: [main, reverb -10 dB]}}
    buses: {main: {}, reverb: {role: effects, to: main}}
    outputs: {main: desk/out 1}
    wiring: {xlr: [desk/out 1 -> left/in]}

*Source*
Common practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from rigbook.checks.routing._say import plain_legs, silence, waiting
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.graph.gaps import Gap, names_of
from rigbook.graph.rig import Rig
from rigbook.plan.model import Bus
from rigbook.text.phrase import both, counted, phrase

SEVERITY = Severity.ERROR
ABSENCE = True


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each bus, its two sides together."""
    stuck: dict[tuple[str, str], list[Gap]] = {}
    for gap in rig.gaps:
        if gap.start and gap.start.why == "no output" and is_sent(rig, gap.start.node):
            bus = rig.net.nodes[gap.start.node]["bus"]
            stuck.setdefault((bus.desk, bus.name), []).append(gap)
    for key, found in stuck.items():
        yield _finding(rig, rig.plan.buses[key], found)


def is_sent(rig: Rig, leg: str) -> bool:
    """True where a channel or bus is sent to a leg, be it with the send off."""
    if rig.net.pred[leg]:
        return True
    bus = rig.net.nodes[leg]["bus"]
    return any(s.bus == bus.name for c in rig.plan.channels if c.desk == bus.desk for s in c.sends)


def _finding(rig: Rig, bus: Bus, found: list[Gap]) -> Finding:
    legs = [g.start.side for g in found if g.start]
    wants = [w for g in found for w in g.wants]
    before = (n for g in found if g.start for n in rig.net.pred[g.start.node])
    count = len({c.number for n in before if (c := rig.channel(n))})
    what = plain_legs(bus, legs)
    sent = (
        counted(count, "%(num)s channel is sent here", "%(num)s channels are sent here")
        if count
        else phrase("this is sent to")
    )
    return Finding(
        "orphan-bus",
        SEVERITY,
        phrase("%(what)s has sends and no way out", what=what),
        Label(bus.span, sent),
        waiting(wants),
        effect=silence(rig, wants, phrase("nobody hears what is sent to `%(bus)s`", bus=bus.name)),
        remedy=_remedy(bus, found),
        objects=frozenset({bus.name, *(g.start.node for g in found if g.start)}) | names_of(wants),
    )


def _remedy(bus: Bus, found: list[Gap]) -> str:
    lines = [f"`{bus.name} {g.start.side}".rstrip() + f": {g.wants[0].head}`" for g in found if g.start and g.wants]
    if lines:
        return phrase("write %(lines)s under `outputs`", lines=both(lines))
    if bus.role in ("effects", "group"):
        return phrase("write under `%(bus)s` where it goes, such as `to: main`", bus=bus.name)
    return phrase("name the socket of `%(bus)s` under `outputs`, or take its sends out", bus=bus.name)
