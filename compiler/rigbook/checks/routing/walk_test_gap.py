"""A cable that no step of the walk test tries.

*What it finds*
A cable that carries a bus and leads to nothing that sounds, records or listens, while the bus is heard elsewhere. The
walk test goes from bus to speaker: what lies on no such way is never tried.

*Why it matters on stage*
Nobody finds out before the show whether that line works, or that it hangs as a long aerial on a good one.

*Put it right*
Cable the line on to what it is for, or take it out.

*Fails*
    plan: 1
    show: Fails
    units: {desk: desk-16, top: powered-top-12, tie: tie-line-16}
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main}}
    buses: {main: {}}
    outputs: {main: desk/out 1}
    wiring: {xlr: [desk/out 1 -> top/in, top/link -> tie/booth 13]}

*Passes*
    plan: 1
    show: Passes
    units: {desk: desk-16, top: powered-top-12, tie: tie-line-16, second: powered-top-12}
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main}}
    buses: {main: {}}
    outputs: {main: desk/out 1}
    wiring: {xlr: [desk/out 1 -> top/in, top/link -> tie/booth 13, tie/stage 13 -> second/in]}

*Source*
Common practice: a walk test tries every cable, link, amplifier channel and speaker one at a time.
"""

from __future__ import annotations

from collections.abc import Iterator

from rigbook.checks.routing._say import leg_name
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.graph import kinds as k
from rigbook.graph.rig import Rig
from rigbook.graph.ways import behind, way_words
from rigbook.text.phrase import phrase

SEVERITY = Severity.ERROR
YIELDS_TO = (
    "orphan-output",
    "unfed-output",
    "orphan-bus",
    "silent-speaker",
    "link-missing",
    "two-into-one",
    "double-routed-speaker",
    "signal-loop",
    "bridge-misuse",
)
ABSENCE = True


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each cable at which a dead branch begins."""
    known = {tail for g in rig.gaps if g.start for tail in (g.start.node, *g.start.tails)}
    dead: set[str] = set()
    for cable in rig.plan.cables:
        start, end = cable.start.id, cable.end.id
        if not rig.carriers.carries_signal(cable) or not rig.legs_at.get(start) or rig.heard.get(end) or start in dead:
            continue
        after = behind(rig, end)
        dead |= after
        if after & known or any(_goes_on(rig, n) for n in after):
            continue
        leg = rig.legs_of(start)[0]
        yield Finding(
            "walk-test-gap",
            SEVERITY,
            phrase("no step of the walk test tries the cable `%(cable)s`", cable=cable.name),
            Label(cable.end_span, phrase("nothing that sounds lies behind this")),
            path=way_words(rig, leg, end),
            effect=phrase("`%(bus)s` goes down a line that nobody hears", bus=leg_name(rig, leg)),
            remedy=phrase("cable `%(end)s` on to what it is for, or take the cable out", end=end),
            objects=frozenset({cable.name, start, end}),
        )


def _goes_on(rig: Rig, node: str) -> bool:
    """A channel of another desk listens, or the unit is a spare."""
    unit = rig.unit(node)
    return rig.net.nodes[node]["kind"] in (k.CHANNEL, k.UNKNOWN) or bool(unit and unit.spare)
