"""A file that is too large.

*What it finds*
A file of more than two million bytes or two hundred thousand values, as no show has.

*Why it matters on stage*
It is not read at all.

*Put it right*
Split it into several files that build on one another; keep pictures in files of their own.

*Fails*
    plan: 1
    show: Fails
    exceptions:
    - many # times: 200001

*Passes*
    plan: 1
    show: Passes
    exceptions: []

*Source*
The plan language.
"""

from rigbook.findings.finding import Severity

SEVERITY = Severity.ERROR
