"""An amount with no unit, or with one that does not fit.

*What it finds*
A number without its unit, an unknown unit, or a unit of something else: a length in seconds.

*Why it matters on stage*
A delay of 12 could be milliseconds, metres or feet.

*Put it right*
Write the unit behind the number: `12 ms`, `18 m`, `60 ft`, `-6 dB`.

*Fails*
    plan: 1
    show: Fails
    room: {reverberation-time: 1.4 m}

*Passes*
    plan: 1
    show: Passes
    room: {reverberation-time: 1.4 s}

*Source*
SI Brochure, 9th edition; common practice.
"""

from rigbook.findings.finding import Severity

SEVERITY = Severity.ERROR
