"""A tag before a value.

*What it finds*
`!word` before a value, by which YAML chooses a type. In a plan a value is what is typed.

*Why it matters on stage*
None, but the line does not say what it seems to say.

*Put it right*
Take the tag out.

*Fails*
    plan: 1
    show: !title Fails

*Passes*
    plan: 1
    show: Passes

*Source*
The plan language.
"""

from rigbook.findings.finding import Severity

SEVERITY = Severity.ERROR
