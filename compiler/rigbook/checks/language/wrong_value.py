"""A value that means nothing here.

*What it finds*
A word that is not one of those that the key takes, a name with capitals or spaces, a cable without its arrow, a place
without a direction, a date that there is not.

*Why it matters on stage*
What it says is not in the plan.

*Put it right*
The message says what the key takes.

*Fails*
    plan: 1
    show: Fails
    date: 6.2.2027

*Passes*
    plan: 1
    show: Passes
    date: 2027-02-06

*Source*
The plan language.
"""

from rigbook.findings.finding import Severity

SEVERITY = Severity.ERROR
