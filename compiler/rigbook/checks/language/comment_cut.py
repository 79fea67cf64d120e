"""A value that ends at a comment sign.

*What it finds*
A `#` and a figure behind a value and a space: to YAML a comment begins there, and the rest is not read.

*Why it matters on stage*
Two tracks or two boxes have the same name.

*Put it right*
Put the value between quotes, or a space behind the `#` of a comment.

*Fails*
    plan: 1
    show: Supper #2

*Passes*
    plan: 1
    show: "Supper #2"

*Source*
YAML 1.2.2, section 6.6.
"""

from rigbook.findings.finding import Severity

SEVERITY = Severity.WARNING
