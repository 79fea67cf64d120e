"""A source that is plugged where its channel does not listen.

*What it finds*
A channel whose `plugged` and `from` are not the two ends of one line: no cable, splitter or tie line leads from the one
to the other.

*Why it matters on stage*
The microphone is plugged in as the plan says, and its channel stays silent, or is heard on that of another.

*Put it right*
Write the socket at which the line to `from` begins, or the one at which the line from `plugged` ends.

*Fails*
    plan: 1
    show: Fails
    units: {desk: desk-16, walls: tie-line-16, top: powered-top-12}
    inputs: {1: {name: Alto, from: desk/line 1, plugged: walls/stage 2, mic: dynamic-vocal, source: vocal, to: main}}
    buses: {main: {}}
    outputs: {main: desk/out 1}
    wiring: {xlr: [walls/booth 1-8 -> desk/line 1-8, desk/out 1 -> top/in]}

*Passes*
    plan: 1
    show: Passes
    units: {desk: desk-16, walls: tie-line-16, top: powered-top-12}
    inputs: {1: {name: Alto, from: desk/line 1, plugged: walls/stage 1, mic: dynamic-vocal, source: vocal, to: main}}
    buses: {main: {}}
    outputs: {main: desk/out 1}
    wiring: {xlr: [walls/booth 1-8 -> desk/line 1-8, desk/out 1 -> top/in]}

*Source*
Common practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from rigbook.checks.ports._ends import around, loose, row
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.graph import kinds as k
from rigbook.graph.rig import Rig
from rigbook.graph.ways import behind
from rigbook.plan.model import Channel
from rigbook.text.phrase import phrase, quoted

SEVERITY = Severity.ERROR
ABSENCE = True
YIELDS_TO = ("wrong-direction", "box-not-joined")


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each channel; one for all channels whose lines lack the same joint, such as a multicore."""
    used = {s.id for c in rig.plan.channels if c.source_key for s in c.plugged}
    astray: list[tuple[Channel, list[tuple[str, str]]]] = []
    for channel in rig.plan.channels:
        said = {"plugged", "from"} <= channel.record.spans.keys() and not channel.record.broken & {"plugged", "from"}
        if not said or not channel.source_key or len(channel.plugged) != len(channel.sockets):
            continue
        pairs = [(p.id, s.id) for p, s in zip(channel.plugged, channel.sockets, strict=True)]
        if any(n not in rig.net or rig.net.nodes[n]["kind"] != k.SOCKET for pair in pairs for n in pair):
            continue
        if not any(behind(rig, plug) & {n for _, n in pairs} for plug, _ in pairs):
            astray.append((channel, pairs))
    joints: dict[tuple[str, ...], list[tuple[Channel, list[tuple[str, str]]]]] = {}
    for channel, pairs in astray:
        ends = (_loose(rig, pairs[0][0]), _begin(rig, pairs[0][1]))
        joint = (channel.desk, *(n.partition("/")[0] for n in ends))
        if not any(_end(rig, channel, plug) for plug, _ in pairs):
            joints.setdefault(joint, []).append((channel, pairs))
    for (_, here, there), lost in joints.items():
        if len(lost) > 1 and here != there:
            yield _unjoined(rig, lost)
            astray = [each for each in astray if each not in lost]
    while astray:
        channel, pairs = astray.pop(0)
        other = next((i for i, (_, theirs) in enumerate(astray) if _crossed(rig, pairs, theirs)), None)
        if other is None:
            yield _finding(rig, channel, pairs, used)
        else:
            yield _exchanged(rig, channel, *astray.pop(other))


def _crossed(rig: Rig, pairs: list[tuple[str, str]], others: list[tuple[str, str]]) -> bool:
    """Each is plugged in where the other's line begins."""
    return all(
        behind(rig, plug) & {socket for _, socket in there}
        for here, there in ((pairs, others), (others, pairs))
        for plug, _ in here[:1]
    )


def _exchanged(rig: Rig, one: Channel, two: Channel, pairs: list[tuple[str, str]]) -> Finding:
    sockets = {s.id for c in (one, two) for s in (*c.plugged, *c.sockets)}
    return Finding(
        "plugged-astray",
        SEVERITY,
        phrase("`%(one)s` and `%(two)s` are plugged into each other's line", one=one.name, two=two.name),
        Label(one.record.at("plugged"), phrase("leads to `%(socket)s`", socket=pairs[0][1])),
        (Label(two.record.at("plugged"), phrase("leads to `%(socket)s`", socket=one.sockets[0].id)),),
        effect=phrase("each of the two faders moves the other source"),
        remedy=phrase(
            "exchange the `plugged:` of channels %(one)s and %(two)s, or their `from:`",
            one=one.number,
            two=two.number,
        ),
        objects=frozenset(around(rig, sockets)),
    )


def _unjoined(rig: Rig, lost: list[tuple[Channel, list[tuple[str, str]]]]) -> Finding:
    """Several lines that come to one unit, whose channels listen at another."""
    channels = [channel for channel, _ in lost]
    pairs = [pair for _, each in lost for pair in each]
    hanging, sockets = [_loose(rig, plug) for plug, _ in pairs], [_begin(rig, socket) for _, socket in pairs]
    here, there = hanging[0].partition("/")[0], sockets[0].partition("/")[0]
    # the same cable brings what is plugged in by other ways
    waiting = [n for n in rig.net.nodes if n.startswith(f"{there}/") and not rig.net.pred[n] and rig.net.succ[n]]
    return Finding(
        "plugged-astray",
        SEVERITY,
        phrase("nothing leads from `%(here)s` to `%(there)s`", here=row(hanging), there=row(sockets))
        if row(hanging) and row(sockets)
        else phrase("nothing leads from `%(here)s` to `%(there)s`", here=here, there=there),
        Label(channels[0].record.at("plugged"), phrase("it is plugged in here")),
        tuple(Label(c.record.at("plugged"), phrase("and here")) for c in channels[1:4]),
        effect=phrase("nothing is heard of %(names)s", names=quoted(c.name for c in channels)),
        remedy=phrase(
            "write a cable under `wiring`: `%(here)s -> %(there)s`",
            here=row(hanging) or hanging[0],
            there=row(sockets) or sockets[0],
        ),
        objects=frozenset(around(rig, (*hanging, *waiting, *(n for pair in pairs for n in pair)))),
    )


def _loose(rig: Rig, plug: str) -> str:
    """The output at which the line from another ends, where it is one; the other itself where it is none or several."""
    ends = loose(rig, plug)
    return ends[0] if len(ends) == 1 else plug


def _finding(rig: Rig, channel: Channel, pairs: list[tuple[str, str]], used: set[str]) -> Finding:
    begins = [_begin(rig, socket) for _, socket in pairs]
    free = all(b != s and b not in used for b, (_, s) in zip(begins, pairs, strict=True))
    ends = [_end(rig, channel, plug) for plug, _ in pairs]
    plug, socket = pairs[0]
    if free:
        key, meant = "plugged", _pair(begins)
    elif all(ends):
        key, meant = "from", _pair(ends)
    else:
        key, meant = "plugged", ""
    return Finding(
        "plugged-astray",
        SEVERITY,
        phrase(
            "`%(channel)s` is plugged into `%(plug)s`, which does not lead to `%(socket)s`",
            channel=channel.name,
            plug=plug,
            socket=socket,
        ),
        Label(channel.record.at(key), _begins(begins[0], socket) if key == "plugged" else phrase("it listens here")),
        (Label(channel.record.at("from"), phrase("it listens here")),)
        if key == "plugged"
        else (Label(channel.record.at("plugged"), phrase("it is plugged in here")),),
        effect=phrase("channel %(number)s does not hear `%(channel)s`", number=channel.number, channel=channel.name),
        remedy=phrase("write `%(line)s`", line=f"{key}: {meant}")
        if meant
        else phrase(
            "write the two ends of one line: cable `%(plug)s` to `%(socket)s`", plug=_loose(rig, plug), socket=socket
        ),
        objects=frozenset(around(rig, (*(n for pair in pairs for n in pair), *begins, *ends))),
    )


def _begins(begin: str, socket: str) -> str:
    if begin == socket:
        return phrase("nothing leads from here to `%(socket)s`", socket=socket)
    return phrase("the line to `%(socket)s` begins at `%(begin)s`", socket=socket, begin=begin)


def _pair(sockets: list[str]) -> str:
    """One socket, or the two of a stereo channel, as typed."""
    first, *rest = sockets
    return "+".join((first, *(r.rpartition(" ")[2] for r in rest)))


def _begin(rig: Rig, socket: str) -> str:
    """The socket at which the line to another begins."""
    seen = {socket}
    while True:
        before = [n for n in rig.net.pred[socket] if n not in seen and rig.net.nodes[n]["kind"] == k.SOCKET]
        if len(before) != 1:
            return socket
        socket = before[0]
        seen.add(socket)


def _end(rig: Rig, channel: Channel, plug: str) -> str:
    """A socket of the channel's desk, or of a box that it reaches, that the line from another ends at and that no
    channel of the desk listens to.
    """
    heard = {s.id for c in rig.plan.channels if c.desk == channel.desk for s in c.sockets}
    for node in sorted(behind(rig, plug)):
        unit = rig.unit(node)
        near = unit and unit.family in ("desk", "stage box") and rig.net.nodes[node]["kind"] == k.SOCKET
        if unit and near and node not in heard and rig.carriers.joined(channel.desk, unit.name):
            return node
    return ""
