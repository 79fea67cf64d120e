"""Phantom power from the wrong side of a splitter.

*What it finds*
A microphone or DI that needs phantom power, and the only channels that give it lie behind an output of a splitter that
passes none (a transformer).

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
        if origin.wants != "needs" or not on or any(not r.blocked_at for r in on):
            continue
        blocked = [r for r in on if (u := rig.unit(r.blocked_at)) and u.family == "splitter"]
        if blocked:
            yield _finding(rig, origin, blocked[0])


def _finding(rig: Rig, origin: Origin, reach: Reach) -> Finding:
    unit = reach.blocked_at.partition("/")[0]
    direct = next((r.channel for r in origin.reaches if not r.blocked_at), None)
    desk = phrase(" of `%(desk)s`", desk=direct.desk) if direct and direct.desk != reach.channel.desk else ""
    fix = (
        phrase("write `phantom: yes` at channel %(number)s%(desk)s", number=direct.number, desk=desk)
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
