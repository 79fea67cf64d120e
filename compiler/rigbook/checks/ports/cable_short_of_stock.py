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

from rigbook.checks.ports.network_cable_too_long import find as networks
from rigbook.checks.ports.speaker_cable_loss import find as lossy
from rigbook.compute.stock import Need, Shortage, shortages
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.graph.rig import Rig
from rigbook.text.phrase import joined, phrase
from rigbook.units.quantity import Amount

SEVERITY = Severity.WARNING
YIELDS_TO = ("cable-too-short",)


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each kind of cable."""
    found = shortages(rig.plan)
    # a length that cannot be meant is told as such, and nobody owns it
    told = {f.primary.span for check in (lossy, networks) for f in check(rig)} if found else set()
    for shortage in found:
        kind = rig.plan.kinds.get(shortage.owned.kind)
        if kind is not None and kind.family == "cable" and not {n.span for n in shortage.lacking} <= told:
            yield short(shortage, "cable-short-of-stock", SEVERITY)


def short(shortage: Shortage, check: str, severity: Severity) -> Finding:
    """The finding for a kind of which there are too few."""
    kind, lacking = shortage.owned.kind, shortage.lacking
    long = [n for n in lacking if n.length_m is not None]
    if len(shortage.needs) <= shortage.owned.total and long:
        message = phrase(
            "`%(what)s` takes %(length)s of `%(kind)s`, no piece left is that long",
            what=long[0].what,
            length=_length(long[0]),
            kind=kind,
        )
    else:
        message = phrase(
            "the plan takes %(count)s of `%(kind)s`, %(total)s are owned",
            count=len(shortage.needs),
            kind=kind,
            total=shortage.owned.total,
        )
    first, *rest = lacking
    return Finding(
        check,
        severity,
        message,
        Label(first.span, _with(phrase("nothing is left for `%(what)s`", what=first.what), first)),
        (*(Label(n.span, phrase("nor for this")) for n in rest[:3]), Label(shortage.owned.span, phrase("the stock"))),
        effect=phrase("`%(what)s` and %(count)s more go without", what=first.what, count=len(rest))
        if rest
        else phrase("`%(what)s` goes without", what=first.what),
        remedy=_with(phrase("hire %(count)s x `%(kind)s`", count=len(lacking), kind=kind), first),
        objects=frozenset({kind}),
    )


def _length(need: Need) -> str:
    if need.length_m is None:
        return ""
    length = Amount(f"{need.length_m:g}", "m")
    return phrase("about %(length)s", length=length) if need.reckoned else length


def _with(text: str, need: Need) -> str:
    """A text, and the length that is needed where one is known."""
    return joined((text, _length(need))) if need.length_m is not None else text
