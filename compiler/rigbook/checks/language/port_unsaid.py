"""A cable that does not say which socket.

*What it finds*
A cable end that names a unit with several sockets that fit, and not which of them.

*Why it matters on stage*
Whoever plugs it in has to guess.

*Put it right*
Write the socket: `amp/in A`.

*Fails*
    plan: 1
    show: Fails
    units: {player: player-2, recorder: recorder-2}
    wiring: {xlr: [player/out 1 -> recorder]}

*Passes*
    plan: 1
    show: Passes
    units: {player: player-2, recorder: recorder-2}
    wiring: {xlr: [player/out 1-2 -> recorder/in 1-2]}

*Source*
The plan language.
"""

from rigbook.findings.finding import Severity

SEVERITY = Severity.ERROR
