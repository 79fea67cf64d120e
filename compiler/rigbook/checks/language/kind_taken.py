"""A kind of one's own with the name of a shipped one.

*What it finds*
A kind described under `kinds` whose name the shipped gear library has already.

*Why it matters on stage*
Two plans would mean different things by one name.

*Put it right*
Give it a name of its own, such as `our-xlr`.

*Fails*
    plan: 1
    show: Fails
    kinds: {xlr: {is: cable, title: our own XLR cable, ends: [xlr-male, xlr-female]}}

*Passes*
    plan: 1
    show: Passes
    kinds: {our-xlr: {is: cable, title: our own XLR cable, ends: [xlr-male, xlr-female]}}

*Source*
The plan language.
"""

from rigbook.findings.finding import Severity

SEVERITY = Severity.ERROR
