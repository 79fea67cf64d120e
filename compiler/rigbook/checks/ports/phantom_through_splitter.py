"""Phantom power from the wrong side of a splitter.

*What it finds*
A microphone or DI that needs phantom power, and the only channels that give it lie behind an output of a splitter that
passes none (a transformer). Where another desk gives it from the right side, it is a warning.

*Why it matters on stage*
The lamp on the desk is lit and the microphone is dead.

*Put it right*
Let the desk on the direct output give it: `phantom: yes` there.

*Fails*
    plan: 1
    show: Fails
    units: {desk: desk-16, split: splitter-8, rest: handover-48, left: powered-top-12}
    inputs:
      1: {name: Alto, from: desk/line 1, plugged: split/in 1, mic: condenser-small, phantom: yes, to: main}
    buses: {main: {}}
    outputs: {main: desk/out 1}
    wiring: {xlr: [split/b 1 -> desk/line 1, split/a 1 -> rest/in 1, desk/out 1 -> left/in]}

*Passes*
    plan: 1
    show: Passes
    units: {desk: desk-16, split: splitter-8, rest: handover-48, left: powered-top-12}
    inputs:
      1: {name: Alto, from: desk/line 1, plugged: split/in 1, mic: condenser-small, phantom: yes, to: main}
    buses: {main: {}}
    outputs: {main: desk/out 1}
    wiring: {xlr: [split/a 1 -> desk/line 1, split/b 1 -> rest/in 1, desk/out 1 -> left/in]}

*Source*
Common practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from rigbook.checks.ports._phantom import Origin, Reach, origins
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.graph.rig import Rig
from rigbook.text.phrase import phrase

SEVERITY = Severity.ERROR
YIELDS_TO = ("double-patched-input", "port-taken", "wrong-direction")


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each source."""
    for origin in origins(rig):
        on = [r for r in origin.reaches if r.on]
        blocked = [r for r in on if r.blocked_at and (u := rig.unit(r.blocked_at)) and u.family == "splitter"]
        if origin.wants != "needs" or not blocked:
            continue
        given = next((r for r in on if not r.blocked_at), None)
        if given is None:
            yield _finding(rig, origin, blocked[0])
        else:
            yield _besides(origin, blocked[0], given)


def _besides(origin: Origin, reach: Reach, given: Reach) -> Finding:
    """Another desk gives it from the right side: this one only looks as if it did."""
    desk, number = reach.channel.desk, reach.channel.number
    return Finding(
        "phantom-through-splitter",
        Severity.WARNING,
        phrase(
            "phantom power of channel %(number)s of `%(desk)s` does not pass `%(blocked_at)s`",
            number=number,
            desk=desk,
            blocked_at=reach.blocked_at,
        ),
        Label(
            reach.channel.record.at("phantom"),
            phrase("given behind `%(unit)s`", unit=reach.blocked_at.partition("/")[0]),
        ),
        (Label(given.channel.record.at("phantom"), phrase("`%(desk)s` gives it here", desk=given.channel.desk)),),
        effect=phrase("the lamp is lit on a desk that gives nothing: when the source fails, the wrong desk is asked"),
        remedy=phrase("take `phantom: yes` out of channel %(number)s of `%(desk)s`", number=number, desk=desk),
        objects=frozenset({s.id for s in origin.channel.plugged} if origin.channel else {origin.name}),
    )


def _finding(rig: Rig, origin: Origin, reach: Reach) -> Finding:
    unit = reach.blocked_at.partition("/")[0]
    direct = next((r.channel for r in origin.reaches if not r.blocked_at), None)
    desk = phrase(" of `%(desk)s`", desk=direct.desk) if direct and direct.desk != reach.channel.desk else ""
    fix = (
        phrase(
            "move `phantom: yes` from channel %(old)s of `%(other)s` to channel %(number)s%(desk)s",
            old=reach.channel.number,
            other=reach.channel.desk,
            number=direct.number,
            desk=desk,
        )
        if direct
        else _direct(rig, unit)
    )
    return Finding(
        "phantom-through-splitter",
        SEVERITY,
        phrase(
            "phantom power for `%(origin)s` does not pass `%(blocked_at)s`",
            origin=origin.name,
            blocked_at=reach.blocked_at,
        ),
        Label(reach.channel.record.at("phantom"), phrase("given behind `%(unit)s`", unit=unit)),
        (Label(origin.span, phrase("needs 48 V")),),
        effect=phrase("`%(origin)s` stays silent", origin=origin.name),
        remedy=fix,
        objects=frozenset({s.id for s in origin.channel.plugged} if origin.channel else {origin.name}),
    )


def _direct(rig: Rig, unit: str) -> str:
    """The output of a splitter that passes phantom power."""
    kind = rig.plan.units[unit].kind
    ports = kind.ports.values() if kind else ()
    name = next((p.name for p in ports if p.direction == "out" and p.phantom), "")
    return (
        phrase("take the desk that gives it from `%(unit)s/%(name)s` and its neighbours", unit=unit, name=name)
        if name
        else phrase("go past the splitter")
    )
