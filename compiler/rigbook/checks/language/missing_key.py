"""A key that must be there.

*What it finds*
A group without a key that it cannot do without, such as a unit without its kind.

*Why it matters on stage*
Nobody knows what is meant.

*Put it right*
Add the key; the message shows an example.

*Fails*
    plan: 1
    show: Fails
    units: {desk: {title: Desk}}

*Passes*
    plan: 1
    show: Passes
    units: {desk: {title: Desk, kind: desk-16}}

*Source*
The plan language.
"""

from rigbook.findings.finding import Severity

SEVERITY = Severity.ERROR
