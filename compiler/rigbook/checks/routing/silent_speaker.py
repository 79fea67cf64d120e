"""A speaker that no input reaches.

*What it finds*
A passive or powered speaker in use that no source, player or receiver can reach by any way through the desk.

*Why it matters on stage*
The box stays silent, and at the walk test nobody knows whether it is broken or was never fed.

*Put it right*
Follow `rigbook trace PLAN SPEAKER` from the box backwards; patch the first thing that is missing, or mark the box
`spare: yes`.

*Fails*
    plan: 1
    show: Fails
    units: {desk: desk-16, left: powered-top-12, right: powered-top-12}
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main}}
    buses: {main: {}}
    outputs: {main: desk/out 1}
    wiring: {xlr: ["desk/out 1 -> left/in"]}

*Passes*
    plan: 1
    show: Passes
    units: {desk: desk-16, left: powered-top-12, right: powered-top-12}
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main}}
    buses: {main: {}}
    outputs: {main: desk/out 1}
    wiring: {xlr: [desk/out 1 -> left/in -> right/in]}

*Source*
Common practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from rigbook.findings.finding import Finding, Label, Severity
from rigbook.graph.rig import Rig

SEVERITY = Severity.ERROR
YIELDS_TO = ("unfed-output", "orphan-output", "orphan-bus", "idle-bus", "signal-loop", "link-missing")
ABSENCE = True


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each speaker in use that nothing reaches."""
    for name in rig.boxes:
        # a house rig has no inputs yet: there it is enough that a bus leaves towards the box
        if not (rig.feeds.get(name) or (not rig.plan.channels and rig.feeds_of_box[name])):
            unit = rig.plan.units[name]
            yield Finding(
                "silent-speaker",
                SEVERITY,
                f"nothing reaches the speaker `{name}`",
                Label(unit.span, "no signal comes here"),
                effect=f"`{name}` stays silent",
                remedy=f"cable an amplifier or the link of its twin to `{name}`, or write `spare: yes`",
                objects=frozenset({name}),
            )
