"""A channel that nothing is plugged into.

*What it finds*
A channel without microphone, DI or line source, whose socket no player, receiver or other cable feeds; and a channel
that names no socket at all.

*Why it matters on stage*
There is a fader with a name and no signal, and nobody knows what to put there.

*Put it right*
Say what is plugged in with `mic:`, `di:` or `line:`, cable the unit to the socket, or take the channel out.

*Fails*
    plan: 1
    show: Fails
    units: {desk: desk-16, left: powered-top-12}
    inputs:
      1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main}
      2: {name: Fiddle, from: desk/line 2, source: instrument, to: main}
    buses: {main: {}}
    outputs: {main: desk/out 1}
    wiring: {xlr: [desk/out 1 -> left/in]}

*Passes*
    plan: 1
    show: Passes
    units: {desk: desk-16, left: powered-top-12}
    inputs:
      1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main}
      2: {name: Fiddle, from: desk/line 2, mic: condenser-clip, phantom: yes, source: instrument, to: main}
    buses: {main: {}}
    outputs: {main: desk/out 1}
    wiring: {xlr: [desk/out 1 -> left/in]}

*Source*
Common practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from rigbook.findings.finding import Finding, Label, Severity
from rigbook.graph import kinds as k
from rigbook.graph.rig import Rig
from rigbook.plan.model import Channel
from rigbook.text.phrase import phrase

SEVERITY = Severity.WARNING
YIELDS_TO = ("box-not-joined", "unfed-output", "unheard-source")
ABSENCE = True
KEYS = frozenset({"from", "plugged", "mic", "di", "line"})


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each channel."""
    for channel in rig.plan.channels:
        if channel.record.broken & KEYS or channel.record.get("muted"):
            continue
        if not channel.sockets:
            yield _finding(
                channel,
                phrase(
                    "channel %(number)s `%(channel)s` listens to no socket", number=channel.number, channel=channel.name
                ),
                phrase("write `from:` with the socket it listens to"),
            )
            continue
        nodes = [k.channel_node(channel.desk, channel.number, leg) for leg in channel.legs]
        if not channel.source_key and not any(rig.feeds.get(n) for n in nodes):
            socket = channel.sockets[0].id
            fix = phrase("write `mic:`, `di:` or `line:`, or cable a unit to `%(socket)s`", socket=socket)
            yield _finding(
                channel,
                phrase("channel %(number)s `%(channel)s` has no source", number=channel.number, channel=channel.name),
                fix,
            )


def _finding(channel: Channel, what: str, remedy: str) -> Finding:
    key = "from" if channel.sockets else ""
    return Finding(
        "channel-without-source",
        SEVERITY,
        what,
        Label(channel.record.at(key) if key else channel.span, phrase("nothing is plugged in here") if key else ""),
        effect=phrase("the channel stays silent"),
        remedy=remedy,
        objects=frozenset({channel.name, f"channel {channel.number}", *(s.id for s in channel.sockets)}),
    )
