"""A plan that builds on itself.

*What it finds*
A plan that builds on another one that builds, sooner or later, on the first.

*Why it matters on stage*
There is no rig to begin with.

*Put it right*
Take one of the `builds-on` lines out; the message shows the ring.

*Fails*
    plan: 1
    show: Fails
    builds-on: house.yaml
    # file: house.yaml
    plan: 1
    venue: Barn
    builds-on: plan.yaml

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
