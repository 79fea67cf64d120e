"""Not enough of a kind in the store.

*What it finds*
A kind of microphone, DI, stand, speaker, amplifier or other unit that the stock names and of which the plan takes more
than are owned. Spares count; units that belong to somebody else (`owner:`) do not.

*Why it matters on stage*
Somebody gets the wrong microphone, or none.

*Put it right*
Hire what is short, take another kind, or correct the stock.

*Fails*
    plan: 1
    show: Fails
    units: {desk: desk-16, left: powered-top-12}
    inputs:
      1: {name: Voice, from: desk/line 1, mic: condenser-vocal, phantom: yes, source: vocal, to: main}
      2: {name: Second voice, from: desk/line 2, mic: condenser-vocal, phantom: yes, source: vocal, to: main}
    buses: {main: {}}
    outputs: {main: desk/out 1}
    wiring: {xlr: [desk/out 1 -> left/in]}
    stock: {condenser-vocal: 1}

*Passes*
    plan: 1
    show: Passes
    units: {desk: desk-16, left: powered-top-12}
    inputs:
      1: {name: Voice, from: desk/line 1, mic: condenser-vocal, phantom: yes, source: vocal, to: main}
      2: {name: Second voice, from: desk/line 2, mic: condenser-vocal, phantom: yes, source: vocal, to: main}
    buses: {main: {}}
    outputs: {main: desk/out 1}
    wiring: {xlr: [desk/out 1 -> left/in]}
    stock: {condenser-vocal: 4}

*Source*
Common practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from rigbook.checks.ports.cable_short_of_stock import short
from rigbook.compute.stock import shortages
from rigbook.findings.finding import Finding, Severity
from rigbook.graph.rig import Rig

SEVERITY = Severity.WARNING


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each kind that is no cable."""
    for shortage in shortages(rig.plan):
        kind = rig.plan.kinds.get(shortage.owned.kind)
        if kind is not None and kind.family != "cable":
            yield short(shortage, "gear-short-of-stock", SEVERITY)
