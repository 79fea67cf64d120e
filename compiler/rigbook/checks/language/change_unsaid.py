"""A change to the house rig that does not say so.

*What it finds*
An item that the plan builds on, named again outside `changes`.

*Why it matters on stage*
After the show nobody knows what to put back.

*Put it right*
Move it under `changes:`, with the reason as its heading.

*Fails*
    plan: 1
    show: Fails
    builds-on: house.yaml
    room: {humidity: 70 %}
    # file: house.yaml
    plan: 1
    venue: Barn
    room: {humidity: 50 %}

*Passes*
    plan: 1
    show: Passes
    builds-on: house.yaml
    changes: {Rain all week: {room: {humidity: 70 %}}}
    # file: house.yaml
    plan: 1
    venue: Barn
    room: {humidity: 50 %}

*Source*
The plan language.
"""

from rigbook.findings.finding import Severity

SEVERITY = Severity.ERROR
