"""A line that is indented with a tab.

*What it finds*
A tab in front of a line. YAML counts spaces, and a tab has no width that all programs agree on.

*Why it matters on stage*
Nobody can see to which group the line belongs.

*Put it right*
Put two spaces for each level. Most editors can turn tabs into spaces.

*Fails*
    plan: 1
    show: Fails
    units:
    \tdesk: desk-16

*Passes*
    plan: 1
    show: Passes
    units:
      desk: desk-16

*Source*
YAML 1.2.2, section 6.1.
"""  # noqa: D301

from rigbook.findings.finding import Severity

SEVERITY = Severity.ERROR
