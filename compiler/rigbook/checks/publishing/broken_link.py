"""A link to something that is not there.

*What it finds*
A name between double brackets in a note that nothing in the plan bears, or several things do.

*Why it matters on stage*
Whoever reads the note taps on it and gets nowhere.

*Put it right*
Write the name as it stands in the plan, or take the brackets away.

*Fails*
    plan: 1
    show: Fails
    units: {desk: desk-16}
    notes: {Desk: {text: "Switch [[dsek]] on last."}}

*Passes*
    plan: 1
    show: Passes
    units: {desk: desk-16}
    notes: {Desk: {text: "Switch [[desk]] on last."}}

*Source*
The plan itself.
"""

from rigbook.findings.finding import Severity

SEVERITY = Severity.ERROR
