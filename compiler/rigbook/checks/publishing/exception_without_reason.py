"""An exception that does not say why.

*What it finds*
An exception without a reason, or with a placeholder for one. It is applied all the same.

*Why it matters on stage*
The next person cannot tell whether the fault is accepted or forgotten.

*Put it right*
Write why it is meant: `reason: Two wedges share one mix on purpose.`

*Fails*
    plan: 1
    show: Fails
    units: {desk: desk-16, player: player-2}
    exceptions: [{check: unused-gear, at: player}]

*Passes*
    plan: 1
    show: Passes
    units: {desk: desk-16, player: player-2}
    exceptions: [{check: unused-gear, at: player, reason: The drummer brings the cable.}]

*Source*
Common practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from rigbook.findings.finding import Finding, Label, Severity
from rigbook.graph.rig import Rig
from rigbook.text.phrase import phrase

SEVERITY = Severity.WARNING
PLACEHOLDERS = ("", "todo", "tbd", "none", "x", "?", "-", "...")


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each exception."""
    for exception in rig.plan.exceptions:
        if exception.reason.strip(" .").casefold() in PLACEHOLDERS:
            yield Finding(
                "exception-without-reason",
                SEVERITY,
                phrase("`%(check)s` is accepted at `%(at)s` without a reason", check=exception.check, at=exception.at),
                Label(exception.span, phrase("why is not said")),
                effect=phrase("nobody can tell whether it is accepted or forgotten"),
                remedy=phrase("add `reason:` with why it is meant"),
                objects=frozenset({exception.at}),
            )
