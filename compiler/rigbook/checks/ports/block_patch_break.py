"""A channel that cannot have its socket.

*What it finds*
Sockets that the desk patches in blocks (of eight, as a rule) follow their block as a whole: channel 3 of a block hears
socket 3 of the block that is patched to it. This finds channels whose socket stands elsewhere in its block, and
channels of one block that come from different blocks.

*Why it matters on stage*
The desk cannot be set up as the plan says; whoever patches finds it out and moves things about.

*Put it right*
Move the channel to the number that follows from its socket, or plug the source in where the channel's number wants it.

*Fails*
    plan: 1
    show: Fails
    units: {desk: desk-16, left: powered-top-12}
    inputs:
      1: {name: Fiddle, from: desk/line 1, mic: dynamic-vocal, source: instrument, to: main}
      2: {name: Whistle, from: desk/line 4, mic: dynamic-vocal, source: instrument, to: main}
    buses: {main: {}}
    outputs: {main: desk/out 1}
    wiring: {xlr: [desk/out 1 -> left/in]}

*Passes*
    plan: 1
    show: Passes
    units: {desk: desk-16, left: powered-top-12}
    inputs:
      1: {name: Fiddle, from: desk/line 1, mic: dynamic-vocal, source: instrument, to: main}
      4: {name: Whistle, from: desk/line 4, mic: dynamic-vocal, source: instrument, to: main}
    buses: {main: {}}
    outputs: {main: desk/out 1}
    wiring: {xlr: [desk/out 1 -> left/in]}

*Source*
Common practice: many digital desks patch inputs in blocks of eight.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from rigbook.checks.ports._ends import port_of
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.graph.rig import Rig
from rigbook.plan.model import Channel
from rigbook.records import frozen
from rigbook.text.phrase import phrase

SEVERITY = Severity.WARNING
YIELDS_TO = ("double-patched-input", "wrong-direction", "box-not-joined", "unheard-source")


@frozen
class _Patched:
    channel: Channel
    unit: str
    stem: str
    """Name of the sockets without the number: `in`."""
    socket: int
    size: int
    """Sockets of a block."""

    @property
    def begins(self) -> int:
        """The socket that the first channel of the block would hear."""
        return self.socket - (self.channel.number - 1) % self.size

    @property
    def source(self) -> tuple[str, str, int]:
        """The block of sockets that this channel asks for."""
        return self.unit, self.stem, self.begins


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each block of channels."""
    blocks: dict[tuple[str, int, int], list[_Patched]] = {}
    for patched in _patched(rig):
        block = (patched.channel.desk, patched.size, (patched.channel.number - 1) // patched.size)
        blocks.setdefault(block, []).append(patched)
    for (_, size, number), members in blocks.items():
        whole = [p.source for p in members if (p.begins - 1) % size == 0]
        chosen = Counter(whole).most_common(1)[0][0] if whole else None
        wrong = [p for p in members if p.source != chosen]
        if wrong:
            yield _finding(wrong, chosen, number * size + 1, size)


def _patched(rig: Rig) -> Iterator[_Patched]:
    for channel in rig.plan.channels:
        desk = rig.plan.units[channel.desk].kind if channel.desk in rig.plan.units else None
        # a number that the desk does not have is told as such
        has = desk.get("channels") if desk else None
        if channel.sockets and (has is None or channel.number <= has):
            socket = channel.sockets[0]
            port = port_of(rig, socket)
            stem, _, digits = socket.port.rpartition(" ")
            if port is not None and port.block > 1 and digits.isdecimal():
                yield _Patched(channel, socket.unit, stem, int(digits), port.block)


def _finding(wrong: list[_Patched], chosen: tuple[str, str, int] | None, first: int, size: int) -> Finding:
    worst, *rest = wrong
    channel = worst.channel
    named = f"`{worst.unit}/{worst.stem} {worst.socket}`"
    message = phrase(
        "channel %(number)s `%(channel)s` cannot follow %(named)s in its block of %(size)s",
        number=channel.number,
        channel=channel.name,
        named=named,
        size=size,
    )
    fits = first + (worst.socket - 1) % size
    if chosen is not None:
        unit, stem, begins = chosen
        same = chosen == (worst.unit, worst.stem, worst.begins + channel.number - fits)
        here = phrase(
            "channels %(first)s to %(last)s follow `%(sockets)s`",
            first=first,
            last=first + size - 1,
            sockets=f"{unit}/{stem} {begins}-{begins + size - 1}",
        )
        free = f"{unit}/{stem} {begins + (channel.number - 1) % size}"
        fix = (
            phrase("plug it into `%(socket)s`, or make it channel %(number)s", socket=free, number=fits)
            if same
            else phrase(
                "plug it into `%(socket)s`, or take a channel of another block of %(size)s", socket=free, size=size
            )
        )
    else:
        here = phrase("%(named)s is number %(socket)s of its block", named=named, socket=(worst.socket - 1) % size + 1)
        fix = phrase("make it channel %(fits)s, or another one with that place in its block", fits=fits)
    return Finding(
        "block-patch-break",
        SEVERITY,
        phrase("%(message)s, nor can %(count)s more", message=message, count=len(rest)) if rest else message,
        Label(channel.record.at("from"), here),
        tuple(Label(p.channel.record.at("from"), phrase("nor this one")) for p in rest),
        effect=phrase("the desk cannot be patched as the plan says"),
        remedy=fix,
        objects=frozenset(p.channel.sockets[0].id for p in wrong),
    )
