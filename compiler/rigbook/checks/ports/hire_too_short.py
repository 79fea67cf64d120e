"""Something hired goes back before the show is over.

*What it finds*
A unit that goes back (`returns`) before the day of the show.

*Why it matters on stage*
It is not there on the night, or the next one who hired it waits, and a second hire is paid.

*Put it right*
Hire it for longer, or correct the day.

*Fails*
    plan: 1
    show: Fails
    date: 2027-02-06
    units: {desk: desk-16, left: {kind: powered-top-12, owner: hire firm, returns: 2027-02-05}}
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main}}
    buses: {main: {}}
    outputs: {main: desk/out 1}
    wiring: {xlr: [desk/out 1 -> left/in]}

*Passes*
    plan: 1
    show: Passes
    date: 2027-02-06
    units: {desk: desk-16, left: {kind: powered-top-12, owner: hire firm, returns: 2027-02-08}}
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main}}
    buses: {main: {}}
    outputs: {main: desk/out 1}
    wiring: {xlr: [desk/out 1 -> left/in]}

*Source*
Common practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from rigbook.findings.finding import Finding, Label, Severity
from rigbook.graph.rig import Rig
from rigbook.text.phrase import phrase

SEVERITY = Severity.WARNING


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each unit."""
    show = rig.plan.get("date")
    if show is None:
        return
    for unit in rig.plan.units.values():
        back = unit.record.get("returns")
        if back is not None and back < show:
            yield Finding(
                "hire-too-short",
                SEVERITY,
                phrase("`%(unit)s` goes back before the show", unit=unit.name),
                Label(unit.record.at("returns"), phrase("goes back on this day")),
                (Label(rig.plan.record.at("date"), phrase("the day of the show")),),
                effect=phrase("`%(unit)s` is not there on the night, or somebody waits for it", unit=unit.name),
                remedy=phrase(
                    "hire it until %(date)s or longer, or correct the day behind `returns`",
                    date=show.isoformat(),
                ),
                objects=frozenset({unit.name}),
            )
