"""An exception that accepts nothing.

*What it finds*
An exception under `exceptions` whose check does not fire at that place.

*Why it matters on stage*
The fault was put right, or it moved. The exception stays and hides the next one.

*Put it right*
Take it out, or write where the check fires now.

*Fails*
    plan: 1
    show: Fails
    exceptions: [{check: shared-output, at: box/out 3, reason: Two wedges share one mix on purpose.}]

*Passes*
    plan: 1
    show: Passes
    units: {desk: desk-16, player: player-2}
    exceptions: [{check: unused-gear, at: player, reason: The drummer brings the cable.}]

*Source*
The plan itself.
"""

from rigbook.findings.finding import Severity

SEVERITY = Severity.WARNING
