"""A key that is no name.

*What it finds*
A group or a list where a key belongs, a colon without a name before it, a name over several lines or longer than 200
signs, and the sign `<<` of other YAML programs.

*Why it matters on stage*
What stands behind the colon belongs to nothing.

*Put it right*
Write a short plain name before the colon.

*Fails*
    plan: 1
    show: Fails
    notes:
      [doors]: Ring the bell.

*Passes*
    plan: 1
    show: Passes
    notes:
      Doors: Ring the bell.

*Source*
The plan language.
"""

from rigbook.findings.finding import Severity

SEVERITY = Severity.ERROR
