"""One cable that is written twice, or one unit twice in a chain.

*What it finds*
Two lines of `wiring` that run from the same socket to the same socket; a chain (`sub-1 -> sub-2 -> sub-2`) that comes
to one unit twice.

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
from itertools import pairwise

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
    chains: dict[Span, list[Cable]] = {}
    for cable in rig.plan.cables:
        chains.setdefault(cable.span, []).append(cable)
    for chain in chains.values():
        if len(chain) > 1:
            yield from _in_chain(rig, chain)


def _in_chain(rig: Rig, chain: list[Cable]) -> Iterator[Finding]:
    """A chain that comes back to where it has been: each cable of it begins at the unit where the last one ended."""
    if any(a.end.unit != b.start.unit for a, b in pairwise(chain)):
        return
    for at, cable in enumerate(chain):
        before = next((c for c in chain[:at] if c.end == cable.end), None)
        if before is None:
            continue
        unit = rig.plan.units.get(cable.end.unit)
        fed = {c.end.unit for c in rig.plan.cables}
        alike = [u.name for u in rig.plan.units.values() if unit and u.kind is unit.kind and u.name not in fed]
        missing = next((name for name in alike if not rig.plan.units[name].spare), "")
        yield Finding(
            "cable-twice",
            SEVERITY,
            phrase("the chain comes to `%(unit)s` twice", unit=cable.end.unit),
            Label(cable.end_span, phrase("again here")),
            (Label(before.end_span, phrase("written here first")),),
            effect=phrase("`%(unit)s` has one input, and what was meant here gets nothing", unit=cable.end.unit),
            remedy=phrase("write `%(line)s`", line=missing)
            if missing
            else phrase("take it out here, or name the unit that was meant"),
            objects=frozenset(n for c in chain for n in _ends(rig, c)) | _sockets(rig, missing),
        )
        return


def _sockets(rig: Rig, unit: str) -> frozenset[str]:
    kind = rig.plan.units[unit].kind if unit else None
    return frozenset({unit, *(f"{unit}/{port}" for port in kind.ports)}) if kind else frozenset()


def _ends(rig: Rig, cable: Cable) -> Iterator[str]:
    for socket in (cable.start, cable.end):
        yield from (socket.id, socket.unit)
        if socket.id in rig.net:
            yield from (*rig.ends_of(socket.id), *rig.boxes_of(socket.id))


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
