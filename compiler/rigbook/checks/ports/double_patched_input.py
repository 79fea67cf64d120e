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

from rigbook.findings.finding import Finding, Label, Severity
from rigbook.graph.rig import Rig
from rigbook.plan.model import Channel, Socket
from rigbook.text.phrase import both, counted, phrase

SEVERITY = Severity.ERROR


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each pair of channels, or more, that share sockets."""
    channels = rig.plan.channels
    heard: dict[tuple[str, Socket], list[int]] = {}
    for i, channel in enumerate(channels):
        for socket in dict.fromkeys(channel.sockets):
            heard.setdefault((channel.desk, socket), []).append(i)
    shared: dict[tuple[int, ...], list[Socket]] = {}
    for (_, socket), users in heard.items():
        if len(users) > 1:
            shared.setdefault(tuple(users), []).append(socket)
    for users_of, sockets in shared.items():
        yield _finding([channels[i] for i in users_of], sockets)


def _finding(channels: list[Channel], sockets: list[Socket]) -> Finding:
    first, *rest = channels
    what = both(f"`{s.id}`" for s in sockets)
    numbers = both(f"{c.number} `{c.name}`" for c in channels)
    meant = sum(bool(c.source_key) for c in channels) < 2
    return Finding(
        "double-patched-input",
        Severity.WARNING if meant else SEVERITY,
        counted(
            len(sockets),
            "%(what)s is patched to channels %(numbers)s",
            "%(what)s are patched to channels %(numbers)s",
            what=what,
            numbers=numbers,
        ),
        Label(rest[0].record.at("from"), phrase("used again")),
        (Label(first.record.at("from"), phrase("used here")), *(Label(c.record.at("from")) for c in rest[1:])),
        effect=phrase("`%(rest)s` hears what is plugged in for `%(first)s`", rest=rest[0].name, first=first.name),
        remedy=phrase("give `%(rest)s` a socket of its own", rest=rest[0].name),
        objects=frozenset({*(s.id for s in sockets)}),
    )
