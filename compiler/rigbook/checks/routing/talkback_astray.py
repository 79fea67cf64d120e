"""Talkback that a monitor mix lacks, or that the audience hears.

*What it finds*
A channel with `source: talkback` that does not reach a monitor mix of its desk, or that goes to a main, sub, fill or
delay bus, by whatever buses lie between. A send that is `off` counts for a monitor mix: the way is there, and a button
opens it.

*Why it matters on stage*
A player who does not hear the talkback is shouted at across the stage, and the sound check waits. What is said over the
mains is heard by the whole audience.

*Put it right*
Send the talkback to every monitor mix of the desk, and to no bus that the audience hears.

*Fails*
    plan: 1
    show: Fails
    units: {desk: desk-16, wedge: powered-wedge-12, column: powered-top-12}
    inputs:
      1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: [mix-1, main]}
      2: {name: Talkback, from: desk/line 2, mic: dynamic-vocal, source: talkback, to: [mix-1, main]}
    buses: {mix-1: {monitor-for: Voice}, main: {}}
    outputs: {mix-1: desk/out 1, main: desk/out 2}
    wiring: {xlr: [desk/out 1 -> wedge/in, desk/out 2 -> column/in]}

*Passes*
    plan: 1
    show: Passes
    units: {desk: desk-16, wedge: powered-wedge-12, column: powered-top-12}
    inputs:
      1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: [mix-1, main]}
      2: {name: Talkback, from: desk/line 2, mic: dynamic-vocal, source: talkback, to: mix-1}
    buses: {mix-1: {monitor-for: Voice}, main: {}}
    outputs: {mix-1: desk/out 1, main: desk/out 2}
    wiring: {xlr: [desk/out 1 -> wedge/in, desk/out 2 -> column/in]}

*Source*
Common practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from rigbook.findings.finding import Finding, Label, Severity
from rigbook.graph.rig import Rig
from rigbook.plan.model import Bus, Channel, Plan
from rigbook.text.phrase import joined, phrase

SEVERITY = Severity.WARNING

HEARD = ("mains", "subs", "fill", "delay")
"""Roles of buses that the audience hears."""


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for all mixes that a talkback lacks, one for each bus of the audience that it goes to."""
    for channel in rig.plan.channels:
        if channel.kind_of_source != "talkback" or not channel.sends:
            continue  # that it is sent nowhere is told by `sends-to-nowhere`
        mixes = [b for b in rig.plan.buses.values() if b.role == "monitor" and b.desk == channel.desk]
        ways = _ways(rig.plan, channel, closed=True)
        missed = [b for b in mixes if b.name not in ways]
        if missed:
            yield _missed(channel, missed)
        for name, first in _ways(rig.plan, channel, closed=False).items():
            if rig.plan.buses[channel.desk, name].role in HEARD:
                yield _heard(channel, name, first)


def _ways(plan: Plan, channel: Channel, *, closed: bool) -> dict[str, Label]:
    """The buses of its desk that a channel reaches, each with the send of the channel that leads there.

    `closed` counts ways that are closed too: sends that are off.
    """
    out: dict[str, Label] = {}
    for send in channel.sends:
        waiting = [send.bus] if closed or not send.off else []
        while waiting:
            name = waiting.pop()
            bus = plan.buses.get((channel.desk, name))
            if bus is None or name in out:
                continue
            out[name] = Label(send.span, phrase("talkback goes this way"))
            waiting += [s.bus for s in bus.sends if closed or not s.off]
    return out


def _missed(channel: Channel, mixes: list[Bus]) -> Finding:
    names = joined(f"`{b.name}`" for b in mixes)
    return Finding(
        "talkback-astray",
        SEVERITY,
        phrase("the talkback `%(channel)s` does not reach %(names)s", channel=channel.name, names=names),
        Label(channel.record.at("to"), phrase("not sent there")),
        tuple(Label(b.span, phrase("a monitor mix without talkback")) for b in mixes),
        effect=phrase("who hears this mix does not hear who speaks to the stage"),
        remedy=phrase("add %(names)s to the `to:` of channel %(number)s", names=names, number=channel.number),
        objects=frozenset({f"channel {channel.number}", channel.name, *(b.name for b in mixes)}),
    )


def _heard(channel: Channel, bus: str, where: Label) -> Finding:
    return Finding(
        "talkback-astray",
        SEVERITY,
        phrase("the talkback `%(channel)s` goes to `%(bus)s`, which the audience hears", channel=channel.name, bus=bus),
        where,
        effect=phrase("what is said to the stage is heard by the whole audience"),
        remedy=phrase("take `%(bus)s` out of the ways of channel %(number)s", bus=bus, number=channel.number),
        objects=frozenset({f"channel {channel.number}", channel.name, bus}),
    )
