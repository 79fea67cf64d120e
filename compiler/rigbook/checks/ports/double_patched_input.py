"""An input socket that two channels of one desk use.

*What it finds*
Two channels of the same desk that listen to the same socket. Two desks that share a stage box are no fault. Where
only one of the two channels names a source it is a warning: a second channel for the same microphone may be meant.

*Why it matters on stage*
Both faders move the same microphone, and the source that was meant for the second channel has no socket.

*Put it right*
Give one of the two channels its own socket. Where both are meant, name the source on one of them only and accept the
finding with the reason.

*Fails*
    plan: 1
    show: Fails
    units: {desk: desk-16, left: powered-top-12}
    inputs:
      1: {name: Fiddle, from: desk/line 1, mic: dynamic-vocal, source: instrument, to: main}
      9: {name: Whistle, from: desk/line 1, mic: dynamic-vocal, source: instrument, to: main}
    buses: {main: {}}
    outputs: {main: desk/out 1}
    wiring: {xlr: [desk/out 1 -> left/in]}

*Passes*
    plan: 1
    show: Passes
    units: {desk: desk-16, left: powered-top-12}
    inputs:
      1: {name: Fiddle, from: desk/line 1, mic: dynamic-vocal, source: instrument, to: main}
      2: {name: Whistle, from: desk/line 2, mic: dynamic-vocal, source: instrument, to: main}
    buses: {main: {}}
    outputs: {main: desk/out 1}
    wiring: {xlr: [desk/out 1 -> left/in]}

*Source*
Common practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from rigbook.checks.ports._ends import port_of
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.graph.rig import Rig
from rigbook.plan.model import Channel, Socket
from rigbook.text.phrase import both, counted, phrase

SEVERITY = Severity.ERROR


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each channel that listens where another does."""
    heard: dict[tuple[str, Socket], list[Channel]] = {}
    for channel in rig.plan.channels:
        for socket in dict.fromkeys(channel.sockets):
            heard.setdefault((channel.desk, socket), []).append(channel)
    shared: dict[int, tuple[Channel, list[Channel], list[Socket]]] = {}
    for (_, socket), users in heard.items():
        if len(users) > 1:
            # the one whose number does not go with its socket, else the one that comes later
            wrong = next((c for c in reversed(users) if not _at_home(rig, c)), users[-1])
            _, others, sockets = shared.setdefault(id(wrong), (wrong, [], []))
            others += [c for c in users if c is not wrong and not any(c is o for o in others)]
            sockets.append(socket)
    for wrong, others, sockets in shared.values():
        yield _finding(rig, wrong, others, sockets, set(heard))


def _at_home(rig: Rig, channel: Channel) -> bool:
    """The place of its socket in the block is that of its number among the channels."""
    first = channel.sockets[0]
    port, digits = port_of(rig, first), first.port.rpartition(" ")[2]
    return port is not None and digits.isdecimal() and (int(digits) - channel.number) % max(port.block, 8) == 0


def _finding(
    rig: Rig, wrong: Channel, others: list[Channel], sockets: list[Socket], heard: set[tuple[str, Socket]]
) -> Finding:
    channels = sorted((wrong, *others), key=lambda c: c.number)
    meant = sum(bool(c.source_key) for c in channels) < 2
    # a second channel for the same microphone may be meant: it wants no socket of its own
    own = {(wrong.desk, s) for s in wrong.sockets if s not in sockets}
    free = _free(rig, wrong, heard - own) if not meant else ""
    return Finding(
        "double-patched-input",
        Severity.WARNING if meant else SEVERITY,
        counted(
            len(sockets),
            "%(what)s is patched to channels %(numbers)s",
            "%(what)s are patched to channels %(numbers)s",
            what=both(f"`{s.id}`" for s in sockets),
            numbers=both(f"{c.number} `{c.name}`" for c in channels),
        ),
        Label(wrong.record.at("from"), phrase("used again")),
        tuple(Label(c.record.at("from"), phrase("used here")) for c in others),
        effect=phrase("`%(rest)s` hears what is plugged in for `%(first)s`", rest=wrong.name, first=others[0].name),
        remedy=phrase("write `%(line)s`, which is free", line=f"from: {free}")
        if free
        else phrase("give `%(rest)s` a socket of its own", rest=wrong.name),
        objects=frozenset({*(s.id for s in sockets), *(s.id for s in wrong.sockets)}),
    )


def _free(rig: Rig, channel: Channel, heard: set[tuple[str, Socket]]) -> str:
    """Sockets of a channel's own number in its block, else of the same numbers elsewhere, that no channel has."""
    first = channel.sockets[0]
    stem, _, digits = first.port.rpartition(" ")
    port = port_of(rig, first)
    if port is None or not digits.isdecimal():
        return ""
    number, size = int(digits), max(port.block, 8)
    home = number - (number - 1) % size + (channel.number - 1) % size
    alike = (
        (u.name, p.rpartition(" ")[0], number)
        for u in rig.plan.units.values()
        if u.kind and u.family in ("desk", "stage box") and rig.carriers.joined(channel.desk, u.name)
        for p, there in u.kind.ports.items()
        if p.rpartition(" ")[2] == digits and there.direction == "in" and (u.name, p) != first
    )
    taken = {s for c in rig.plan.channels if c.source_key for s in c.plugged} | {c.end for c in rig.plan.cables}
    for unit, name, start in ((first.unit, stem, home), *alike):
        run = [Socket(unit, f"{name} {start + i}") for i in range(len(channel.sockets))]
        there = all(port_of(rig, s) is not None and (channel.desk, s) not in heard for s in run)
        if there and not (channel.source_key and taken & set(run)):
            return "+".join((run[0].id, *(s.port.rpartition(" ")[2] for s in run[1:])))
    return ""
