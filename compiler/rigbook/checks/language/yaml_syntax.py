"""A line that YAML cannot read.

*What it finds*
A mistake of form: a colon, a comma, a quote or a bracket that is missing or too many, an indentation that fits
nothing, a list begun on the line of its key. The rest of the file is read on.

*Why it matters on stage*
What stands on that line is not in the plan.

*Put it right*
The message names what is missing. Most editors show brackets, quotes and indentation in colour.

*Fails*
    plan: 1
    show Fails
    date: 2027-02-06

*Passes*
    plan: 1
    show: Passes
    date: 2027-02-06

*Source*
YAML 1.2.2.
"""

from rigbook.findings.finding import Severity

SEVERITY = Severity.ERROR
