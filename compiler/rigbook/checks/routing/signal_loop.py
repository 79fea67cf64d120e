"""A signal that comes back to itself.

*What it finds*
A ring: a bus that is sent to itself by way of other buses, a return channel that is sent to the bus it returns from, an
amplifier link that leads back to its own input.

*Why it matters on stage*
It howls, inside the wires and at full level, the moment the second fader goes up.

*Put it right*
Open the ring at the place that is named: take out the send, or the cable.

*Fails*
    plan: 1
    show: Fails
    units: {desk: desk-16, top: powered-top-12}
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: [main, echo -10 dB]}}
    buses: {main: {}, echo: {role: effects, to: [main, second -6 dB]}, second: {role: effects, to: echo -6 dB}}
    outputs: {main: desk/out 1}
    wiring: {xlr: [desk/out 1 -> top/in]}

*Passes*
    plan: 1
    show: Passes
    units: {desk: desk-16, top: powered-top-12}
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: [main, echo -10 dB]}}
    buses: {main: {}, echo: {role: effects, to: [main, second -6 dB]}, second: {role: effects, to: main -6 dB}}
    outputs: {main: desk/out 1}
    wiring: {xlr: [desk/out 1 -> top/in]}

*Source*
Common practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from rigbook.findings.finding import Finding, Label, Severity
from rigbook.findings.place import Span
from rigbook.graph import kinds as k
from rigbook.graph.build import leg_of
from rigbook.graph.rig import Edge, Rig
from rigbook.graph.words import edge_words, node_words, path_words
from rigbook.records import replace
from rigbook.text.phrase import phrase

SEVERITY = Severity.ERROR

MADE_BY = (k.SEND, k.CABLE, k.LEAVE, k.INSERT, k.LISTEN, k.PLUG, k.LINK, k.INSIDE, k.SOUND)
"""Kinds of edges, those first that a person most easily makes by mistake."""


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each ring; the two sides of stereo buses make one."""
    found: dict[tuple[str, Span], Finding] = {}
    for ring in rig.loops:
        made = _finding(rig, ring)
        key = (made.message, made.primary.span)
        before = found.setdefault(key, made)
        found[key] = replace(before, objects=before.objects | made.objects)
    yield from found.values()


def _finding(rig: Rig, ring: tuple[str, ...]) -> Finding:
    edges = _edges(rig, ring)
    # the last of the sends closes the ring: what comes from outside comes in by an earlier one
    last = min(edges, key=lambda e: (MADE_BY.index(rig.net.edge(e)["kind"]), _reversed(rig, e)))
    start = edges.index(last)
    edges = [*edges[start + 1 :], *edges[: start + 1]]
    data = rig.net.edge(last)
    others = {rig.net.edge(e)["span"]: e for e in edges[:-1] if _typed(rig, e)}
    boxes = rig.boxes_of(last[1])
    return Finding(
        "signal-loop",
        SEVERITY,
        phrase("%(node)s comes back to itself", node=_said(rig, last[1])),
        Label(data["span"], phrase("here the ring closes")),
        tuple(
            Label(span, phrase("%(edge)s to %(node)s", edge=edge_words(rig, e), node=node_words(rig, e[1])))
            for span, e in others.items()
            if span != data["span"]
        ),
        path=path_words(rig, edges),
        effect=phrase("it howls as soon as both levels are up"),
        remedy=_remedy(rig, last),
        objects=frozenset({*ring, *boxes}),
    )


def _edges(rig: Rig, ring: tuple[str, ...]) -> list[Edge]:
    """The edges of a ring, in order."""
    pairs = zip(ring, (*ring[1:], ring[0]), strict=True)
    return [(a, b, min(rig.net.succ[a][b])) for a, b in pairs]


def _reversed(rig: Rig, edge: Edge) -> tuple[int, int]:
    span = rig.net.edge(edge)["span"]
    return -span.line, -span.column


def _typed(rig: Rig, edge: Edge) -> bool:
    """Somebody wrote it: not the inside of a unit."""
    return rig.net.edge(edge)["kind"] not in (k.LINK, k.INSIDE, k.SOUND)


def _said(rig: Rig, node: str) -> str:
    data = rig.net.nodes[leg_of(rig.net, node)]
    if data["kind"] == k.BUS:
        return f"`{data['bus'].name}`"
    return f"`{node}`" if data["kind"] != k.CHANNEL else phrase("channel %(number)s", number=data["channel"].number)


def _remedy(rig: Rig, edge: Edge) -> str:
    data = rig.net.edge(edge)
    if data["kind"] == k.SEND:
        # a side of a bus has no `to:` of its own
        bus = rig.net.nodes[edge[0]]["kind"] == k.BUS
        return phrase(
            "take `%(bus)s` out of the `to:` of %(node)s",
            bus=data["send"].bus,
            node=(_said if bus else node_words)(rig, edge[0]),
        )
    if data["kind"] == k.CABLE:
        return phrase("take out the cable `%(cable)s`", cable=data["cable"].name)
    return phrase(
        "take out what joins %(start)s and %(end)s", start=node_words(rig, edge[0]), end=node_words(rig, edge[1])
    )
