"""A plan in a version of the language that this rigbook does not read.

*What it finds*
A number behind `plan:` that is higher than the newest version this rigbook knows, or none at all.

*Why it matters on stage*
What is new in that version would be read wrongly or not at all.

*Put it right*
Take a newer rigbook, or write the version that this one reads if nothing newer is used.

*Fails*
    plan: 9
    show: Fails

*Passes*
    plan: 1
    show: Passes

*Source*
The plan language.
"""

from rigbook.findings.finding import Severity

SEVERITY = Severity.ERROR
