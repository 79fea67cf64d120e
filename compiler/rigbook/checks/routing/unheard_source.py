"""A receiver or player that no channel listens to.

*What it finds*
The output of a radio receiver, player or recorder that is cabled to an input which no channel of any desk takes.

*Why it matters on stage*
The microphone works, the lamp on the receiver is green, and no fader brings it up.

*Put it right*
Name the channel that listens to that socket, or move the cable to the socket of the channel.

*Fails*
    plan: 1
    show: Fails
    units: {desk: desk-16, top: powered-top-12, player: player-2}
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main}}
    buses: {main: {}}
    outputs: {main: desk/out 1}
    wiring: {xlr: [desk/out 1 -> top/in, player/out 1 -> desk/line 9]}

*Passes*
    plan: 1
    show: Passes
    units: {desk: desk-16, top: powered-top-12, player: player-2}
    inputs:
      1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main}
      9: {name: Music, from: desk/line 9, source: playback, to: main}
    buses: {main: {}}
    outputs: {main: desk/out 1}
    wiring: {xlr: [desk/out 1 -> top/in, player/out 1 -> desk/line 9]}

*Source*
Common practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from rigbook.findings.finding import Finding, Label, Severity
from rigbook.graph import kinds as k
from rigbook.graph.rig import Rig
from rigbook.graph.ways import behind, way_words
from rigbook.plan.model import Channel
from rigbook.text.phrase import phrase

SEVERITY = Severity.WARNING
ABSENCE = True

INPUTS = ("desk", "stage box")


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each output; silent for desks of which the plan names no channels yet."""
    if not rig.plan.channels:
        return
    for start in rig.origins:
        data = rig.net.nodes[start]
        unit = rig.unit(start)
        if data["kind"] != k.SOCKET or rig.heard.get(start) or not rig.net.succ[start] or (unit and unit.spare):
            continue
        after = behind(rig, start)
        ends = [n for n in after if not rig.net.succ[n] and (u := rig.unit(n)) and u.family in INPUTS]
        if not ends or any(rig.net.nodes[n]["kind"] == k.CHANNEL for n in after) or _mistyped(rig, ends[0]):
            continue
        deaf = _deaf_channel(rig, ends[0])
        cable = next(c for e, _ in rig.edges_out(start) if (c := rig.cable(e)))
        yield Finding(
            "unheard-source",
            SEVERITY,
            phrase("`%(start)s` comes to `%(end)s`, and no channel listens there", start=start, end=ends[0]),
            Label(cable.end_span, phrase("nobody listens here")),
            (Label(deaf.record.at("from"), phrase("nothing comes to this channel")),) if deaf else (),
            path=way_words(rig, start, ends[0]),
            effect=phrase("no fader brings up `%(unit)s`", unit=start.partition("/")[0]),
            remedy=phrase("write `from: %(end)s` at channel %(number)s", end=ends[0], number=deaf.number)
            if deaf
            else phrase("write `from: %(end)s` at the channel that is meant", end=ends[0]),
            objects=frozenset({start, ends[0], *_names(deaf)}),
        )


def _deaf_channel(rig: Rig, end: str) -> Channel | None:
    """A channel that listens to an empty socket of the same unit: the one that is probably meant."""
    unit = end.partition("/")[0]
    for channel in rig.plan.channels:
        deaf = [s for s in channel.sockets if s.unit == unit and s.id not in rig.driven]
        if deaf and not channel.source_key:
            return channel
    return None


def _mistyped(rig: Rig, end: str) -> bool:
    """A channel listens to a socket that the unit does not have: which one was meant is not known."""
    unit = end.partition("/")[0]
    heard = (s for c in rig.plan.channels for s in c.sockets)
    return any(s.unit == unit and s.id in rig.plan.unresolved for s in heard)


def _names(channel: Channel | None) -> set[str]:
    if channel is None:
        return set()
    return {f"channel {channel.number}", channel.name, *(s.id for s in channel.sockets)}
