"""A path that leads out of the repository.

*What it finds*
A file named under `builds-on` that lies outside the repository of the plan.

*Why it matters on stage*
The plan works on one machine only, and reads files that nobody gave it.

*Put it right*
Keep every file that a plan needs inside the repository.

*Fails*
    plan: 1
    show: Fails
    builds-on: ../../house.yaml

*Passes*
    plan: 1
    show: Passes
    builds-on: house.yaml
    # file: house.yaml
    plan: 1
    venue: Barn

*Source*
The plan language.
"""

from rigbook.findings.finding import Severity

SEVERITY = Severity.ERROR
