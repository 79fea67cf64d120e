"""Two outputs tied into one input.

*What it finds*
Two cables that end in one input without a mixer or a splitter declared between; two buses assigned to one socket that
leads to no speaker.

*Why it matters on stage*
Two outputs that are tied together work against each other: both get quiet and distorted. Two amplifier outputs tied
together destroy each other.

*Put it right*
Leave one cable, or put what mixes them into the plan: a bus of the desk, a processor with `routes`, a mixer.

*Fails*
    plan: 1
    show: Fails
    units: {desk: desk-16, top: powered-top-12}
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main}}
    buses: {main: {stereo: yes}}
    outputs: {main left: desk/out 1, main right: desk/out 2}
    wiring: {xlr: [desk/out 1 -> top/in, desk/out 2 -> top/in]}

*Passes*
    plan: 1
    show: Passes
    units: {desk: desk-16, top-left: powered-top-12, top-right: powered-top-12}
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main}}
    buses: {main: {stereo: yes}}
    outputs: {main left: desk/out 1, main right: desk/out 2}
    wiring: {xlr: [desk/out 1 -> top-left/in, desk/out 2 -> top-right/in]}

*Source*
Common practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from rigbook.checks.routing._say import names
from rigbook.checks.routing.double_routed_speaker import doubled, out_of_place
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.findings.place import Span
from rigbook.graph import kinds as k
from rigbook.graph.gaps import names_of
from rigbook.graph.loose_ends import SPEAKER_LEVELS
from rigbook.graph.rig import Rig
from rigbook.plan.model import Cable, Output
from rigbook.text.phrase import phrase

SEVERITY = Severity.ERROR
YIELDS_TO = ("speaker-level-into-line",)


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each input with several cables, and for each socket with several buses and no speaker."""
    into: dict[str, list[Cable]] = {}
    for cable in rig.plan.cables:
        if rig.carriers.carries_signal(cable):
            into.setdefault(cable.end.id, []).append(cable)
    for node, cables in into.items():
        if len(cables) > 1 and rig.net.nodes[node]["kind"] == k.SOCKET:
            yield _cables(rig, node, cables)
    for node, outputs in doubled(rig).items():
        if not rig.boxes_of(node):
            yield _buses(rig, node, outputs)


def _cables(rig: Rig, node: str, cables: list[Cable]) -> Finding:
    gap = next((g for g in rig.gaps if g.start and g.start.why == "tied" and g.start.node == node), None)
    wrong = gap.start.cable if gap and gap.start and gap.start.cable else cables[-1]
    starts = [c.start.id for c in cables]
    wants = gap.wants if gap else ()
    loud = any(_level(rig, s) in SPEAKER_LEVELS for s in starts)
    boxes = rig.boxes_of(node)
    waiting = tuple(Label(w.span, phrase("nothing comes to `%(head)s`", head=w.head)) for w in wants)
    return Finding(
        "two-into-one",
        SEVERITY,
        phrase("%(names)s are tied together at `%(node)s`", names=names(dict.fromkeys(starts)), node=node),
        Label(wrong.end_span, phrase("this cable goes into a socket that is taken")),
        (*(Label(c.end_span, phrase("and this one")) for c in cables if c is not wrong), *waiting),
        path="",
        effect=phrase("two amplifier outputs drive each other, and both can fail")
        if loud
        else phrase("the two outputs pull against each other and %(names)s distorts", names=names(boxes))
        if boxes
        else phrase("the two outputs pull against each other"),
        remedy=phrase("write `%(line)s`", line=f"{wrong.start.id} -> {wants[0].head}")
        if wants
        else phrase("leave one cable at `%(node)s`", node=node),
        objects=frozenset({node, *starts, *boxes, *(e for s in starts for e in rig.ends_of(s))}) | names_of(wants),
    )


def _level(rig: Rig, node: str) -> str:
    port = rig.net.nodes[node].get("port")
    return port.level if port else ""


def _buses(rig: Rig, node: str, outputs: list[tuple[Output, Span]]) -> Finding:
    gap = out_of_place(rig, node)
    wrong = next((p for p in outputs if gap and gap.start and p[0] is gap.start.output), outputs[-1])
    return Finding(
        "two-into-one",
        SEVERITY,
        phrase("%(names)s both leave by `%(node)s`", names=names(o.name for o, _ in outputs), node=node),
        Label(wrong[1], phrase("this socket is taken")),
        tuple(
            Label(span, phrase("`%(output)s` leaves here", output=o.name)) for o, span in outputs if o is not wrong[0]
        ),
        effect=phrase("only one of them, or a sum that nobody asked for, leaves by `%(node)s`", node=node),
        remedy=phrase("write `%(line)s`", line=f"{wrong[0].name}: {gap.wants[0].head}")
        if gap
        else phrase("give `%(output)s` a socket of its own", output=wrong[0].name),
        objects=frozenset({node, *(o.name for o, _ in outputs)}) | names_of(gap.wants if gap else ()),
    )
