"""A key or a name that is given twice.

*What it finds*
The same key twice in one group, or the same unit, channel, bus, output or note named twice in one file. The message
names both places; the first one counts.

*Why it matters on stage*
One of the two lines does nothing, and nobody knows which.

*Put it right*
Take one out, or give it another name.

*Fails*
    plan: 1
    show: Fails
    units:
      desk: desk-16
      desk: desk-24

*Passes*
    plan: 1
    show: Passes
    units:
      desk: desk-16

*Source*
YAML 1.2.2, section 3.2.1.3: keys are unique.
"""

from rigbook.findings.finding import Severity

SEVERITY = Severity.ERROR
