"""A list or a group where something else belongs.

*What it finds*
A list where a single value belongs, a single value where a group of keys belongs, and the like.

*Why it matters on stage*
What it says is not in the plan.

*Put it right*
Write it in the shape that the message names.

*Fails*
    plan: 1
    show: Fails
    units: [desk-16]

*Passes*
    plan: 1
    show: Passes
    units: {desk: desk-16}

*Source*
The plan language.
"""

from rigbook.findings.finding import Severity

SEVERITY = Severity.ERROR
