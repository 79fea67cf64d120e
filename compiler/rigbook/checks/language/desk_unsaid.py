"""Several desks, and it is not said which is meant.

*What it finds*
`inputs`, `buses` or `outputs` in a plan with several desks. The first desk is taken.

*Why it matters on stage*
The patch of one desk stands on the page of the other.

*Put it right*
Write `inputs on DESK:`, `buses on DESK:` and `outputs on DESK:`.

*Fails*
    plan: 1
    show: Fails
    units:
      foh, monitors: desk-16
      left, wedge: powered-top-12
    buses on foh: {main: {}}
    outputs on foh: {main: foh/out 1}
    buses on monitors: {mix-1: {role: monitor}}
    outputs on monitors: {mix-1: monitors/out 1}
    inputs: {1: {name: Voice, from: foh/line 1, mic: dynamic-vocal, source: vocal, to: main}}
    wiring: {xlr: [foh/out 1 -> left/in, monitors/out 1 -> wedge/in]}

*Passes*
    plan: 1
    show: Passes
    units: {foh: desk-16, monitors: desk-16}
    inputs on foh: {}
    inputs on monitors: {}
    wiring: {network: ["foh/net A -> monitors/net A, 30 m"]}

*Source*
The plan language.
"""

from rigbook.findings.finding import Severity

SEVERITY = Severity.ERROR
