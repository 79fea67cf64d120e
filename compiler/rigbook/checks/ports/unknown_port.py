"""A socket that the unit does not have.

*What it finds*
A port named in a cable, an input, an output, a route or a setting that is not among the ports of the unit's kind; and
a chain that goes on from a socket without a link-through.

*Why it matters on stage*
The person with the cable in hand stands before a panel that has no such socket.

*Put it right*
Write the port as the kind names it; `rigbook explain gear` lists the shipped kinds.

*Fails*
    plan: 1
    show: Fails
    units: {desk: desk-16, left: powered-top-12}
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main}}
    buses: {main: {}}
    outputs: {main: desk/out 1}
    wiring: {xlr: [desk/out 1 -> left/input]}

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
