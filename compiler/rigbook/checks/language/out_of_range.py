"""An amount that cannot be meant.

*What it finds*
An amount in the right unit, far outside all that is built or found: a high-pass filter at 120 kHz, a delay of 34 s, a
box of 0.8 ohm. The ranges stand in the reference of the language, each with its reason.

*Why it matters on stage*
The wrong figure is typed into the desk, or a sum is made with it: a load is judged, a level is drawn, a fuse is chosen
by a number that nobody meant.

*Put it right*
Look at the unit first (kHz for Hz, s for ms), then at the point. The amount is not used until it can be meant.

*Fails*
    plan: 1
    show: Fails
    room: {reverberation-time: 140 s}

*Passes*
    plan: 1
    show: Passes
    room: {reverberation-time: 1.4 s}

*Source*
Each range names its own (`rigbook schema --reference`); common practice where none is named.
"""

from rigbook.findings.finding import Severity

SEVERITY = Severity.ERROR
