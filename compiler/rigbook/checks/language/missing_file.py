"""A plan that is not there.

*What it finds*
A file named under `builds-on` that does not exist, is a folder or cannot be read.

*Why it matters on stage*
The whole house rig is missing; what only its absence would show is not reported.

*Put it right*
Write the path from the file that names it.

*Fails*
    plan: 1
    show: Fails
    builds-on: house.yaml

*Passes*
    plan: 1
    show: Passes
    builds-on: house.yaml
    # file: house.yaml
    plan: 1
    venue: Barn

*Source*
The plan itself.
"""

from rigbook.findings.finding import Severity

SEVERITY = Severity.ERROR
