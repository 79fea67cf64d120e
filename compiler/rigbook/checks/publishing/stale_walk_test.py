"""A walk test that no longer holds.

*What it finds*
Steps of the walk test whose connections, settings or equipment have changed since they were walked, steps that were
not walked, and steps that were not heard as expected. Each step is judged by the newest record that speaks of it;
records that name no rig are not judged.

*Why it matters on stage*
The record says that the rig was proved, and it was another rig.

*Put it right*
Walk the steps that are named, and put the new record into the plan.

*Fails*
    plan: 1
    show: Fails
    units: {desk: desk-16, left: powered-top-12}
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main}}
    buses: {main: {}}
    outputs: {main: desk/out 1}
    wiring: {xlr: [desk/out 1 -> left/in]}
    walk-tests: [{date: 2027-02-06, by: house technician, rig: "main:000000", heard: {main: as expected}}]

*Passes*
    plan: 1
    show: Passes
    units: {desk: desk-16, left: powered-top-12}
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main}}
    buses: {main: {}}
    outputs: {main: desk/out 1}
    wiring: {xlr: [desk/out 1 -> left/in]}
    walk-tests: [{date: 2027-02-06, by: house technician, heard: {main: as expected}}]

*Source*
Common practice.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Final

from rigbook.findings.finding import Finding, Label, Severity
from rigbook.graph.rig import Rig
from rigbook.text.phrase import joined, phrase

if TYPE_CHECKING:
    from rigbook.walk.record import Stale

SEVERITY = Severity.WARNING
CHANGED_SINCE: Final = phrase("the rig has changed since the walk test of %(date)s: %(steps)s")
LACKING: Final = phrase("not every step holds since the walk test of %(date)s: %(steps)s")
NAMED, TO_WALK = 4, 24
"""Steps that the message names, and those that the remedy names; the walk-test page lists them all."""


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for all records, at the newest that says which rig was walked."""
    if not rig.plan.sections.get("walk-tests"):
        return  # most plans hold none, and deriving the steps is not free
    from rigbook.walk.record import CHANGED, records, stale_steps

    stale = stale_steps(rig)
    if not stale:
        return
    judged = [r for r in records(rig) if r.get("rig")]
    record = max(judged, key=lambda r: (str(r.get("date")), str(r.get("time") or ""), r.span))
    changed = [s for s in stale if s.why == CHANGED]
    yield Finding(
        "stale-walk-test",
        SEVERITY,
        phrase(
            CHANGED_SINCE if changed else LACKING,
            date=record.get("date"),
            steps=_listed(stale),
        ),
        Label(
            record.at("rig") if changed else record.span,
            phrase("the rig that was walked") if changed else phrase("the newest record"),
        ),
        effect=phrase("nobody has heard the rig as it is now"),
        remedy=phrase("walk again: %(steps)s", steps=_listed(stale, TO_WALK)),
        objects=frozenset(s.key for s in stale),
    )


def _listed(stale: tuple[Stale, ...], most: int = NAMED) -> str:
    names = [f"`{s.key}`" for s in stale[:most]]
    said = joined(names)
    more = len(stale) - most
    return phrase("%(names)s and %(number)s more", names=said, number=more) if more > 0 else said
