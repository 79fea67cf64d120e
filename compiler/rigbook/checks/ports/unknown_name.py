"""A name that nothing in the plan has.

*What it finds*
A name of a unit, kind, bus, cable kind, place, supply, change or exception that is not there. Where a name is nearly
right it is read as the one that was meant, so that nothing else is reported for it.

*Why it matters on stage*
What hangs on the name is not in the rig: no cable, no feed, no line in the pull list.

*Put it right*
Write the name as it stands where the thing is named, or name the thing.

*Fails*
    plan: 1
    show: Fails
    units: {desk: desk-16, left: powered-top-12}
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main}}
    buses: {main: {}}
    outputs: {main: desk/out 1}
    wiring: {xlr: [desk/out 1 -> lefft/in]}

*Passes*
    plan: 1
    show: Passes
    units: {desk: desk-16, left: powered-top-12}
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main}}
    buses: {main: {}}
    outputs: {main: desk/out 1}
    wiring: {xlr: [desk/out 1 -> left/in]}

*Source*
The plan itself.
"""

from rigbook.findings.finding import Severity

SEVERITY = Severity.ERROR
