"""One cable that is written twice.

*What it finds*
Two lines of `wiring` that run from the same socket to the same socket.

*Why it matters on stage*
Only one of the two fits into the sockets. The second is packed, carried and counted for nothing; or its line was
copied, and the end that it should have had is still missing.

*Put it right*
Take one of the two lines out, or write the ends that the second was meant to have.

*Fails*
    plan: 1
    show: Fails
    units: {desk: desk-16, left: powered-top-12}
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main}}
    buses: {main: {}}
    outputs: {main: desk/out 1}
    wiring: {xlr: ["desk/out 1 -> left/in, 10 m", "desk/out 1 -> left/in, 20 m"]}

*Passes*
    plan: 1
    show: Passes
    units: {desk: desk-16, left: powered-top-12}
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main}}
    buses: {main: {}}
    outputs: {main: desk/out 1}
    wiring: {xlr: ["desk/out 1 -> left/in, 10 m"]}

*Source*
Common practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from rigbook.findings.finding import Finding, Label, Severity
from rigbook.findings.place import Span
from rigbook.graph.rig import Rig
from rigbook.plan.model import Cable, Socket
from rigbook.text.phrase import phrase

SEVERITY = Severity.ERROR
YIELDS_TO = ("wrong-direction",)


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each pair of lines, whatever their runs unfold to."""
    first: dict[tuple[Socket, Socket], Cable] = {}
    again: dict[tuple[Span, Span], list[Cable]] = {}
    for cable in rig.plan.cables:
        before = first.setdefault((cable.start, cable.end), cable)
        if before is not cable:
            again.setdefault((before.span, cable.span), []).append(cable)
    for (span, _), cables in again.items():
        yield _finding(rig, span, cables)


def _finding(rig: Rig, span: Span, cables: list[Cable]) -> Finding:
    cable = cables[0]
    ends = {e for c in cables for s in (c.start, c.end) if s.id in rig.net for e in rig.ends_of(s.id)}
    return Finding(
        "cable-twice",
        SEVERITY,
        phrase("the cable `%(cable)s` is written twice", cable=cable.name)
        if len(cables) == 1
        else phrase("%(count)s cables, from `%(cable)s` on, are written twice", count=len(cables), cable=cable.name),
        Label(cable.span, phrase("again here")),
        (Label(span, phrase("written here first")),),
        effect=phrase("the second one finds both sockets taken"),
        remedy=phrase("take this line out, or write the ends that it was meant to have"),
        objects=frozenset({*ends, *(s.id for c in cables for s in (c.start, c.end))}),
    )
