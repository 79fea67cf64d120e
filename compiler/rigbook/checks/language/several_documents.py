"""A second document in one file.

*What it finds*
A line `---` below the first document: YAML begins another document there. Only the first is read.

*Why it matters on stage*
Everything below the line is not in the plan.

*Put it right*
Take the line out, or put what follows into a file of its own.

*Fails*
    plan: 1
    show: Fails
    ---
    units: {desk: desk-16}

*Passes*
    ---
    plan: 1
    show: Passes

*Source*
YAML 1.2.2, chapter 9.
"""

from rigbook.findings.finding import Severity

SEVERITY = Severity.ERROR
