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

from rigbook.checks.ports._ends import loose, row
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.graph import kinds as k
from rigbook.graph.rig import Rig
from rigbook.plan.model import Channel
from rigbook.text.phrase import counted, phrase, quoted

SEVERITY = Severity.WARNING
YIELDS_TO = ("box-not-joined", "unfed-output", "unheard-source")
ABSENCE = True
MANY = 3
"""Lines without a source at one unit: two may each lack their own, of more it is the cable that they share (ours)."""
KEYS = frozenset({"from", "plugged", "mic", "di", "line"})


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each channel; one for all channels, of whatever desk, that a splitter gives the same line."""
    bare: dict[tuple[str, ...], list[Channel]] = {}
    for channel in rig.plan.channels:
        if channel.record.broken & KEYS or channel.record.get("muted"):
            continue
        if not channel.sockets:
            what = phrase(
                "channel %(number)s `%(channel)s` listens to no socket", number=channel.number, channel=channel.name
            )
            yield _finding([channel], what, phrase("write `from:` with the socket it listens to"))
        elif not channel.source_key and _is_bare(rig, channel):
            bare.setdefault(tuple(_head(rig, s.id) for s in channel.sockets), []).append(channel)
    for knot in _knots(bare):
        yield _uncabled(rig, [channel for heads in knot for channel in bare.pop(heads)], knot)
    for heads, channels in bare.items():
        first = channels[0]
        fix = phrase("write `mic:`, `di:` or `line:`, or cable a unit to `%(socket)s`", socket=heads[0])
        what = phrase("channel %(number)s `%(channel)s` has no source", number=first.number, channel=first.name)
        yield _finding(channels, what, fix, heads)


def _knots(bare: dict[tuple[str, ...], list[Channel]]) -> list[list[tuple[str, ...]]]:
    """Bare lines to one unit, for one desk: where they are many, what is missing is the cable that they share."""
    knots: dict[tuple[str, str], list[tuple[str, ...]]] = {}
    for heads, channels in bare.items():
        knots.setdefault((channels[0].desk, heads[0].partition("/")[0]), []).append(heads)
    return [lines for lines in knots.values() if len(lines) >= MANY]


def _uncabled(rig: Rig, channels: list[Channel], knot: list[tuple[str, ...]]) -> Finding:
    """Many channels that listen to sockets of one unit, to which nothing is cabled."""
    sockets = [s for heads in knot for s in heads]
    pairs = [(plug, end) for c in channels for plug in _plugged(rig, c) for end in loose(rig, plug)[:1]]
    ends = [end for _, end in pairs]
    fix = (
        phrase("write a cable under `wiring`: `%(here)s -> %(there)s`", here=here, there=row(sockets) or sockets[0])
        if ends and (here := row(ends) or ends[0])
        else phrase("write `mic:`, `di:` or `line:`, or cable a unit to `%(socket)s`", socket=sockets[0])
    )
    what = counted(
        len(channels),
        "nothing is plugged into `%(sockets)s`, and %(num)s channel listens there",
        "nothing is plugged into `%(sockets)s`, and %(num)s channels listen there",
        sockets=row(sockets) or sockets[0].partition("/")[0],
    )
    names = {n for c in channels for n in (c.name, f"channel {c.number}", *(s.id for s in c.sockets))}
    return Finding(
        "channel-without-source",
        SEVERITY,
        what,
        Label(channels[0].record.at("from"), phrase("nothing is plugged in here")),
        tuple(Label(c.record.at("from"), phrase("and here")) for c in channels[1:4]),
        effect=phrase("nothing is heard of %(names)s", names=quoted(c.name for c in channels)),
        remedy=fix,
        objects=frozenset({*names, *sockets, *ends, *(plug for plug, _ in pairs)}),
    )


def _plugged(rig: Rig, channel: Channel) -> list[str]:
    """Where the source of the same name is plugged in that another desk hears."""
    return [s.id for c in rig.plan.channels if c.name == channel.name and c.desk != channel.desk for s in c.plugged]


def _is_bare(rig: Rig, channel: Channel) -> bool:
    """Nothing comes to either side of it."""
    return not any(rig.feeds.get(k.channel_node(channel.desk, channel.number, leg)) for leg in channel.legs)


def _head(rig: Rig, socket: str) -> str:
    """The socket at which the way to another begins."""
    seen = {socket}
    while socket in rig.net:
        before = [n for n in rig.net.pred[socket] if n not in seen]
        if len(before) != 1:
            break
        socket = before[0]
        seen.add(socket)
    return socket


def _finding(channels: list[Channel], what: str, remedy: str, heads: tuple[str, ...] = ()) -> Finding:
    channel, *others = channels
    key = "from" if channel.sockets else ""
    names = {n for c in channels for n in (c.name, f"channel {c.number}", *(s.id for s in c.sockets))}
    return Finding(
        "channel-without-source",
        SEVERITY,
        what,
        Label(channel.record.at(key) if key else channel.span, phrase("nothing is plugged in here") if key else ""),
        tuple(Label(c.record.at("from"), phrase("`%(desk)s` listens to the same line", desk=c.desk)) for c in others),
        effect=phrase("the channel stays silent"),
        remedy=remedy,
        objects=frozenset({*names, *heads}),
    )
