"""More than a unit has room for.

*What it finds*
A channel number beyond the desk's channels; more buses than the desk has, counted in mono (a stereo bus counts twice,
the mains not at all); a socket beyond the last one.

*Why it matters on stage*
The last channels or mixes cannot be had, and it turns out when the rest stands already.

*Put it right*
Take a bigger kind, join a second unit, or make do with fewer.

*Fails*
    plan: 1
    show: Fails
    units: {desk: desk-16, left: powered-top-12}
    inputs: {41: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main}}
    buses: {main: {}}
    outputs: {main: desk/out 1}
    wiring: {xlr: [desk/out 1 -> left/in]}

*Passes*
    plan: 1
    show: Passes
    units: {desk: desk-16, left: powered-top-12}
    inputs: {25: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main}}
    buses: {main: {}}
    outputs: {main: desk/out 1}
    wiring: {xlr: [desk/out 1 -> left/in]}

*Source*
The figures of the kinds.
"""

from __future__ import annotations

from collections.abc import Iterator

from rigbook.findings.finding import Finding, Label, Severity
from rigbook.graph.rig import Rig
from rigbook.plan.model import Channel, Unit
from rigbook.text.phrase import phrase, quoted

SEVERITY = Severity.ERROR


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each desk whose channels or buses do not suffice."""
    for unit in rig.plan.units.values():
        if unit.family == "desk" and not unit.spare:
            yield from _channels(rig, unit)
            yield from _buses(rig, unit)


def _channels(rig: Rig, desk: Unit) -> Iterator[Finding]:
    has = desk.kind.get("channels") if desk.kind else None
    beyond = [c for c in rig.plan.channels if has is not None and c.desk == desk.name and c.number > has]
    if has is not None and beyond:
        first, *rest = beyond
        message = phrase(
            "`%(desk)s` has no channel %(number)s: its channels end at %(has)s",
            desk=desk.name,
            number=first.number,
            has=has,
        )
        yield Finding(
            "over-capacity",
            SEVERITY,
            message,
            Label(
                first.span,
                phrase("%(count)s channels lie beyond", count=len(beyond))
                if rest
                else phrase("this channel lies beyond"),
            ),
            tuple(Label(c.span) for c in rest),
            effect=phrase("`%(first)s` has no fader, nor have %(count)s more", first=first.name, count=len(rest))
            if rest
            else phrase("`%(first)s` has no fader", first=first.name),
            remedy=_free(rig, desk, has, beyond),
            objects=frozenset({desk.name, *(c.name for c in beyond)}),
        )


def _free(rig: Rig, desk: Unit, has: int, beyond: list[Channel]) -> str:
    """Of one channel the number that was probably meant: a free one with its last digit, else the last free one."""
    taken = {c.number + i for c in rig.plan.channels if c.desk == desk.name for i in range(len(c.legs))}
    wide = len(beyond[0].legs)
    free = [n for n in range(1, has + 2 - wide) if not taken & set(range(n, n + wide))]
    kind = desk.kind.name if desk.kind else ""
    if len(beyond) > 1 or not free:
        return phrase("use the numbers up to %(has)s, or a bigger kind than `%(kind)s`", has=has, kind=kind)
    likely = max(free, key=lambda n: (n % 10 == beyond[0].number % 10, n))
    return phrase("write `%(number)s`, which is free, or take a bigger kind than `%(kind)s`", number=likely, kind=kind)


def _buses(rig: Rig, desk: Unit) -> Iterator[Finding]:
    has = desk.kind.get("buses") if desk.kind else None
    if has is None:
        return
    used = 0
    over = []
    for bus in rig.plan.buses.values():
        if bus.desk == desk.name and bus.role != "mains":
            used += len(bus.legs)
            if used > has:
                over.append(bus)
    if over:
        yield Finding(
            "over-capacity",
            SEVERITY,
            phrase("`%(desk)s` has %(has)s buses, the plan takes %(used)s", desk=desk.name, has=has, used=used),
            Label(over[0].span, phrase("there is no bus left for this one")),
            tuple(Label(b.span) for b in over[1:]),
            effect=phrase("%(names)s cannot be made", names=quoted(b.name for b in over[:2])),
            remedy=phrase("join mixes, or make stereo ones mono"),
            objects=frozenset({desk.name, *(b.name for b in over)}),
        )
