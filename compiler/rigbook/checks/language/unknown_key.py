"""A key that the language does not have.

*What it finds*
A key that does not belong into its group. A near one is offered.

*Why it matters on stage*
What it says is not in the plan.

*Put it right*
Write the key that is offered, or leave the line out. `rigbook schema` teaches editors the keys.

*Fails*
    plan: 1
    show: Fails
    units: {desk: {kind: desk-16, titel: Desk}}

*Passes*
    plan: 1
    show: Passes
    units: {desk: {kind: desk-16, title: Desk}}

*Source*
The plan language.
"""

from rigbook.findings.finding import Severity

SEVERITY = Severity.ERROR
