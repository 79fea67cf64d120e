"""An output of a stereo bus that does not say which side.

*What it finds*
An output named after a stereo bus without `left`, `right` or `mono`.

*Why it matters on stage*
One side is missing, or both are summed, and nobody said so.

*Put it right*
Write `main left` and `main right`, or `main mono` for the sum.

*Fails*
    plan: 1
    show: Fails
    units: {desk: desk-16, left: powered-top-12}
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main}}
    buses: {main: {stereo: yes}}
    outputs: {main: desk/out 1}
    wiring: {xlr: [desk/out 1 -> left/in]}

*Passes*
    plan: 1
    show: Passes
    units: {desk: desk-16, left: powered-top-12}
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main}}
    buses: {main: {stereo: yes}}
    outputs: {main mono: desk/out 1}
    wiring: {xlr: [desk/out 1 -> left/in]}

*Source*
The plan language.
"""

from rigbook.findings.finding import Severity

SEVERITY = Severity.ERROR
