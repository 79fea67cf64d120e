"""A condenser or an active DI without phantom power.

*What it finds*
A microphone or DI whose kind needs phantom power, and no channel that hears it gives any: it is not switched on, or
the socket has none.

*Why it matters on stage*
The microphone is dead, and it looks like a broken cable.

*Put it right*
Write `phantom: yes` at the channel. Behind a splitter, the desk on the direct output gives it.

*Fails*
    plan: 1
    show: Fails
    units: {desk: desk-16, left: powered-top-12}
    inputs: {1: {name: Choir, from: desk/line 1, mic: condenser-small, source: vocal, to: main}}
    buses: {main: {}}
    outputs: {main: desk/out 1}
    wiring: {xlr: [desk/out 1 -> left/in]}

*Passes*
    plan: 1
    show: Passes
    units: {desk: desk-16, left: powered-top-12}
    inputs: {1: {name: Choir, from: desk/line 1, mic: condenser-small, phantom: yes, source: vocal, to: main}}
    buses: {main: {}}
    outputs: {main: desk/out 1}
    wiring: {xlr: [desk/out 1 -> left/in]}

*Source*
IEC 61938 (phantom power, 48 V).
"""

from __future__ import annotations

from collections.abc import Iterator

from rigbook.checks.ports._phantom import Origin, origins
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.graph.rig import Rig
from rigbook.text.phrase import phrase

SEVERITY = Severity.ERROR
YIELDS_TO = ("connector-mismatch", "channel-without-source")


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each source."""
    for origin in origins(rig):
        on = [r for r in origin.reaches if r.on]
        unread = any("phantom" in r.channel.record.broken for r in origin.reaches)
        if origin.wants != "needs" or unread or any(not r.blocked_at for r in on):
            continue
        if not on:
            yield _off(origin)
        elif "splitter" not in {u.family for r in on if (u := rig.unit(r.blocked_at))}:
            yield _no_power(origin, on[0].blocked_at)


def _off(origin: Origin) -> Finding:
    able = [r.channel for r in origin.reaches if not r.blocked_at]
    number = able[0].number if able else 0
    where = phrase("channel %(number)s", number=number) if able else f"`{origin.reaches[0].blocked_at}`"
    fix = (
        phrase("write `phantom: yes` at channel %(number)s", number=number)
        if able
        else phrase("take a microphone or DI that needs none")
    )
    what = f"`{origin.name}` (`{origin.kind.name}`)"
    return Finding(
        "phantom-missing",
        SEVERITY,
        phrase("%(what)s needs phantom power, %(where)s gives none", what=what, where=where),
        Label(origin.span, phrase("needs 48 V")),
        effect=phrase("`%(origin)s` stays silent", origin=origin.name),
        remedy=fix,
        objects=_objects(origin),
    )


def _no_power(origin: Origin, socket: str) -> Finding:
    return Finding(
        "phantom-missing",
        SEVERITY,
        phrase(
            "`%(origin)s` (`%(kind)s`) needs phantom power, `%(socket)s` has none to give",
            origin=origin.name,
            kind=origin.kind.name,
            socket=socket,
        ),
        Label(origin.span, phrase("needs 48 V")),
        effect=phrase("`%(origin)s` stays silent", origin=origin.name),
        remedy=phrase("plug it into a socket with phantom power instead of `%(socket)s`", socket=socket),
        objects=_objects(origin),
    )


def _objects(origin: Origin) -> frozenset[str]:
    if origin.channel is None:
        return frozenset({origin.name})
    return frozenset(s.id for s in origin.channel.plugged)
