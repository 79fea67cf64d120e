"""Phantom power where it does harm.

*What it finds*
Phantom power on a microphone whose kind refuses it (error), or on the output of a player, a keyboard or another active
unit whose kind does not say that it takes it (warning).

*Why it matters on stage*
A ribbon microphone can be damaged, and so can a line output.

*Put it right*
Take `phantom: yes` out, or go through a DI or the isolated output of a splitter.

*Fails*
    plan: 1
    show: Fails
    units: {desk: desk-16, left: powered-top-12}
    inputs: {1: {name: Cornet, from: desk/line 1, mic: ribbon-passive, phantom: yes, source: instrument, to: main}}
    buses: {main: {}}
    outputs: {main: desk/out 1}
    wiring: {xlr: [desk/out 1 -> left/in]}

*Passes*
    plan: 1
    show: Passes
    units: {desk: desk-16, left: powered-top-12}
    inputs: {1: {name: Cornet, from: desk/line 1, mic: ribbon-passive, source: instrument, to: main}}
    buses: {main: {}}
    outputs: {main: desk/out 1}
    wiring: {xlr: [desk/out 1 -> left/in]}

*Source*
Common practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from rigbook.checks.ports._phantom import LINE, origins
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.graph.rig import Rig
from rigbook.text.phrase import phrase

SEVERITY = Severity.ERROR
YIELDS_TO = ("double-patched-input", "port-taken", "wrong-direction")


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each source; both sides of a stereo source are one."""
    told: set[str] = set()
    for origin in origins(rig):
        on = [r.channel for r in origin.reaches if r.on and not r.blocked_at]
        if origin.wants not in ("refuses", LINE) or not on or f"{on[0].desk} {on[0].number}" in told:
            continue
        told.add(f"{on[0].desk} {on[0].number}")
        refuses = origin.wants == "refuses"
        first = on[0]
        yield Finding(
            "phantom-unwanted",
            SEVERITY if refuses else Severity.WARNING,
            phrase(
                "`%(origin)s` (`%(kind)s`) refuses phantom power, channel %(number)s gives it",
                origin=origin.name,
                kind=origin.kind.name,
                number=first.number,
            )
            if refuses
            else phrase(
                "`%(origin)s` (`%(kind)s`) is an active output, and phantom power comes to it",
                origin=origin.name,
                kind=origin.kind.name,
            ),
            Label(first.record.at("phantom"), phrase("switched on here")),
            (
                Label(origin.span, phrase("this is plugged in")),
                *(Label(c.record.at("phantom"), phrase("and here")) for c in on[1:]),
            ),
            effect=phrase("phantom power can damage it"),
            remedy=phrase("take `phantom: yes` out of channel %(number)s", number=first.number),
            objects=frozenset({s.id for s in origin.channel.plugged} if origin.channel else {origin.name}),
        )
