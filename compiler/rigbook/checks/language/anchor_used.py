"""A reference to another place in the file.

*What it finds*
`&name` and `*name`, by which YAML repeats a part of a file somewhere else. A plan is to be read line by line, and one
file could be made to hold more than any machine can.

*Why it matters on stage*
Whoever reads the line on stage cannot tell what it says.

*Put it right*
Write the value out. A plan takes over another one by `builds-on`.

*Fails*
    plan: 1
    show: Fails
    units: {desk: &d desk-16}

*Passes*
    plan: 1
    show: Passes
    units: {desk: desk-16}

*Source*
The plan language.
"""

from rigbook.findings.finding import Severity

SEVERITY = Severity.ERROR
