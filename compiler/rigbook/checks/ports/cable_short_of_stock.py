"""Not enough cables, or not long enough.

*What it finds*
A kind of cable that the stock names and of which the plan takes more pieces, or longer ones, than are owned. A cable
with a length takes a piece that is at least as long; where the plan gives none, its length is reckoned from where its
ends stand. With `join: 2` two pieces may make one run. The cable of each microphone and DI counts in.

*Why it matters on stage*
The last box stands there without a cable, an hour before doors.

*Put it right*
Hire or borrow what is short, or join what stands near.

*Fails*
    plan: 1
    show: Fails
    units: {desk: desk-16, box: stage-box-16}
    wiring: {network: ["desk/net A -> box/net A, 50 m"]}
    stock: {network: {lengths: [2 x 30 m]}}

*Passes*
    plan: 1
    show: Passes
    units: {desk: desk-16, box: stage-box-16}
    wiring: {network: ["desk/net A -> box/net A, 50 m"]}
    stock: {network: {lengths: [2 x 30 m, 75 m]}}

*Source*
Common practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from rigbook.compute.stock import Need, Shortage, shortages
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.graph.rig import Rig

SEVERITY = Severity.WARNING


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each kind of cable."""
    for shortage in shortages(rig.plan):
        kind = rig.plan.kinds.get(shortage.owned.kind)
        if kind is not None and kind.family == "cable":
            yield short(shortage, "cable-short-of-stock", SEVERITY)


def short(shortage: Shortage, check: str, severity: Severity) -> Finding:
    """The finding for a kind of which there are too few."""
    kind, lacking = shortage.owned.kind, shortage.lacking
    long = [n for n in lacking if n.length_m is not None]
    if len(shortage.needs) <= shortage.owned.total and long:
        message = f"`{long[0].what}` takes{_length(long[0])[1:]} of `{kind}`, no piece left is that long"
    else:
        message = f"the plan takes {len(shortage.needs)} of `{kind}`, {shortage.owned.total} are owned"
    first, *rest = lacking
    return Finding(
        check,
        severity,
        message,
        Label(first.span, f"nothing is left for `{first.what}`{_length(first)}"),
        (*(Label(n.span, "nor for this") for n in rest[:3]), Label(shortage.owned.span, "the stock")),
        effect=f"`{first.what}`{f' and {len(rest)} more go' if rest else ' goes'} without",
        remedy=f"hire {len(lacking)} x `{kind}`{_length(first)}",
        objects=frozenset({kind}),
    )


def _length(need: Need) -> str:
    if need.length_m is None:
        return ""
    return f", {'about ' if need.reckoned else ''}{need.length_m:g} m"
