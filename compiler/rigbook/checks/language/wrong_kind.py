"""A kind of another family than belongs there.

*What it finds*
A stand where a microphone belongs, a microphone where a rack belongs, a speaker as a cable kind, and the like.

*Why it matters on stage*
The pull list, the patch and the checks would take it for what it is not.

*Put it right*
Name a kind of the family that the message asks for.

*Fails*
    plan: 1
    show: Fails
    racks: {amps: {kind: boom-stand}}

*Passes*
    plan: 1
    show: Passes
    racks: {amps: {kind: rack-6u, lifts: 2}}

*Source*
The plan language.
"""

from rigbook.findings.finding import Severity

SEVERITY = Severity.ERROR
