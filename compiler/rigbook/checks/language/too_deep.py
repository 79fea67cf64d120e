"""Groups inside groups, too many times.

*What it finds*
Groups and lists that lie more than twelve deep. Nothing in the language lies at half that depth.

*Why it matters on stage*
What lies there is not in the plan.

*Put it right*
Write it flatter. A bracket too many is the usual reason.

*Fails*
    plan: 1
    show: Fails
    exceptions: [[[[[[[[[[[[[deep]]]]]]]]]]]]]

*Passes*
    plan: 1
    show: Passes
    exceptions: []

*Source*
The plan language.
"""

from rigbook.findings.finding import Severity

SEVERITY = Severity.ERROR
