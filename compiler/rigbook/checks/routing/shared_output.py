"""One output that feeds several inputs by a plain Y, and does not say so.

*What it finds*
Several cables that leave one output without `split` on any of their lines.

*Why it matters on stage*
Most often a slip: two lines name one socket, and one of them was meant to name the next. Where it is meant, somebody
has to bring the Y.

*Put it right*
Write `, split` behind the line if the Y is meant; make the second cable from the link-through if there is one.

*Fails*
    plan: 1
    show: Fails
    units: {desk: desk-16, left: powered-top-12, right: powered-top-12}
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main}}
    buses: {main: {}}
    outputs: {main: desk/out 1}
    wiring: {xlr: [desk/out 1 -> left/in, desk/out 1 -> right/in]}

*Passes*
    plan: 1
    show: Passes
    units: {desk: desk-16, left: powered-top-12, right: powered-top-12}
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main}}
    buses: {main: {}}
    outputs: {main: desk/out 1}
    wiring: {xlr: [desk/out 1 -> left/in -> right/in]}

*Source*
Common practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from rigbook.checks.routing._say import names
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.graph import kinds as k
from rigbook.graph.rig import Rig
from rigbook.plan.model import Cable
from rigbook.text.phrase import phrase

SEVERITY = Severity.WARNING
YIELDS_TO = ("orphan-output",)


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each output with several cables."""
    out: dict[str, list[Cable]] = {}
    for cable in rig.plan.cables:
        if rig.carriers.carries_signal(cable):
            out.setdefault(cable.start.id, []).append(cable)
    for node, cables in out.items():
        if len(cables) < 2 or any(c.split for c in cables) or rig.net.nodes[node]["kind"] != k.SOCKET:
            continue
        first, *rest = sorted(cables, key=lambda c: c.start_span)
        yield Finding(
            "shared-output",
            SEVERITY,
            phrase("`%(node)s` feeds %(names)s without a splitter", node=node, names=names(c.end.id for c in cables)),
            Label(rest[0].start_span, phrase("this output is taken")),
            tuple(Label(c.start_span, phrase("it feeds this cable too")) for c in (first, *rest[1:])),
            effect=_effect(rig, cables),
            remedy=_remedy(rig, first, rest[0]),
            objects=frozenset({node}),
        )


def _effect(rig: Rig, cables: list[Cable]) -> str:
    ends = list(dict.fromkeys(e for c in cables for e in rig.ends_of(c.end.id)))
    return (
        phrase("%(names)s play the same, if somebody brings a Y cable", names=names(ends))
        if len(ends) > 1
        else phrase("somebody must bring a Y")
    )


def _remedy(rig: Rig, first: Cable, other: Cable) -> str:
    link = next((e[1] for e, d in rig.edges_out(first.end.id) if d["kind"] == k.LINK and not rig.net.succ[e[1]]), "")
    if link:
        return phrase("cable `%(link)s` to `%(end)s`, or write `, split` behind the line", link=link, end=other.end.id)
    return phrase("write `, split` behind the line if the Y is meant; else name the output that was meant")
