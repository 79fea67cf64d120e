"""The insert of a channel or bus that does not come back.

*What it finds*
An insert whose signal, from the socket it goes out by, does not come to the socket it comes back by; and an insert with
one socket where a stereo channel or bus has two sides.

*Why it matters on stage*
With an insert switched in, the channel or bus is silent from there on, and the fault looks like a dead microphone.

*Put it right*
Write the two cables to and from the outboard unit under `wiring:`, or what goes where inside it (`routes`). Give both
sides: `send: desk/out 5+6`.

*Fails*
    plan: 1
    show: Fails
    units: {desk: desk-16, comp: dynamics-2, column: powered-top-12}
    inputs:
      1:
        {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main,
         insert: {send: desk/out 5, return: desk/line 16}}
    buses: {main: {}}
    outputs: {main: desk/out 1}
    wiring: {xlr: [desk/out 1 -> column/in, desk/out 5 -> comp/in A]}

*Passes*
    plan: 1
    show: Passes
    units: {desk: desk-16, comp: dynamics-2, column: powered-top-12}
    inputs:
      1:
        {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main,
         insert: {send: desk/out 5, return: desk/line 16}}
    buses: {main: {}}
    outputs: {main: desk/out 1}
    wiring: {xlr: [desk/out 1 -> column/in, desk/out 5 -> comp/in A, comp/out A -> desk/line 16]}

*Source*
Common practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from rigbook.findings.finding import Finding, Label, Severity
from rigbook.graph import kinds as k
from rigbook.graph.rig import Rig
from rigbook.plan.insert import Insert
from rigbook.plan.model import Bus, Channel, Socket
from rigbook.text.phrase import phrase

SEVERITY = Severity.ERROR
ABSENCE = True


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each insert, at its first side that is open."""
    owners: tuple[Channel | Bus, ...] = (*rig.plan.channels, *rig.plan.buses.values())
    for owner in owners:
        insert = owner.insert
        if insert is None or not insert.sends or not insert.returns:
            continue  # sockets that do not exist have been told
        pairs = insert.pairs(owner.legs)
        if min(len(insert.sends), len(insert.returns)) < len(pairs):
            yield _one_side(owner, insert)
            continue
        lost = next((p for p in pairs if p[2].id not in rig.net.reached((p[1].id,), rig.net.succ)), None)
        if lost is not None:
            yield _open(rig, owner, insert, lost[1], lost[2])


def _name(owner: Channel | Bus) -> str:
    if isinstance(owner, Channel):
        return phrase("channel %(number)s `%(name)s`", number=owner.number, name=owner.name)
    return phrase("the bus `%(name)s`", name=owner.name)


def _objects(owner: Channel | Bus, *sockets: Socket) -> frozenset[str]:
    own = f"channel {owner.number}" if isinstance(owner, Channel) else owner.name
    return frozenset({own, owner.name, *(s.id for s in sockets)})


def _one_side(owner: Channel | Bus, insert: Insert) -> Finding:
    out = len(insert.sends) < len(owner.legs)
    short, line = (insert.sends, "send: desk/out 5+6") if out else (insert.returns, "return: desk/line 15+16")
    return Finding(
        "open-insert",
        SEVERITY,
        phrase("the insert of %(name)s has one side, where the signal has two", name=_name(owner)),
        Label(insert.record.at("send" if out else "return"), phrase("one socket")),
        effect=phrase("one side goes past the insert, or is silent"),
        remedy=phrase("give both sides, such as `%(line)s`", line=line),
        objects=_objects(owner, *short),
    )


def _open(rig: Rig, owner: Channel | Bus, insert: Insert, send: Socket, back: Socket) -> Finding:
    net = rig.net
    reached = net.reached((send.id,), net.succ)
    last = next((n for n in reversed(rig.order) if n in reached and net.nodes[n]["kind"] == k.SOCKET), send.id)
    return Finding(
        "open-insert",
        SEVERITY,
        phrase("the insert of %(name)s does not come back to `%(socket)s`", name=_name(owner), socket=back.id),
        Label(insert.record.at("return"), phrase("nothing of `%(send)s` comes here", send=send.id)),
        (Label(insert.record.at("send"), phrase("from here the signal goes as far as `%(last)s`", last=last)),),
        effect=phrase("%(name)s is silent with its insert in", name=_name(owner)),
        remedy=phrase("write the cables to and from the outboard unit under `wiring:`"),
        objects=_objects(owner, send, back),
    )
