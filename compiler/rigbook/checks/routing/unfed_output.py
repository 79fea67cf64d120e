"""A cable that carries nothing.

*What it finds*
A cable that leaves a socket which no bus, no link and nothing inside its unit feeds.

*Why it matters on stage*
What hangs on the cable stays silent, though everything is plugged in. Often the bus leaves by the socket beside it.

*Put it right*
Send the bus to the socket that the cable is in, or move the cable to the socket of the bus.

*Fails*
    plan: 1
    show: Fails
    units: {desk: desk-16, left: powered-top-12, right: powered-top-12}
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main}}
    buses: {main: {stereo: yes}}
    outputs: {main left: desk/out 1, main right: desk/out 3}
    wiring: {xlr: [desk/out 1 -> left/in, desk/out 2 -> right/in]}

*Passes*
    plan: 1
    show: Passes
    units: {desk: desk-16, left: powered-top-12, right: powered-top-12}
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main}}
    buses: {main: {stereo: yes}}
    outputs: {main left: desk/out 1, main right: desk/out 2}
    wiring: {xlr: [desk/out 1 -> left/in, desk/out 2 -> right/in]}

*Source*
Common practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from rigbook.checks.routing._say import silence
from rigbook.checks.routing.orphan_bus import is_sent
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.graph import kinds as k
from rigbook.graph.gaps import Gap, names_of
from rigbook.graph.loose_ends import Start, Want
from rigbook.graph.rig import Rig
from rigbook.graph.ways import behind
from rigbook.text.phrase import phrase

SEVERITY = Severity.ERROR
YIELDS_TO = ("bridge-misuse", "link-missing", "signal-loop")
ABSENCE = True

SENDERS = ("desk", "stage box", "amplifier", "processor")
"""Families behind the desk. What lies before it is laid in advance, and many of its lines stay empty."""


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each way that begins with nothing."""
    for gap in rig.gaps:
        start = gap.start
        want = gap.wants[0] if gap.wants else None
        meant = want and want.cable is not None and not _of_a_channel(rig, want) and not _laid(rig, want)
        if (start is None and meant) or (start and _out(gap) and _is_here(rig, start)):
            yield _finding(rig, gap.wants[0], start)
    yield from _idle_cables(rig)


def _laid(rig: Rig, want: Want) -> bool:
    """A line of a panel or splitter to what is handed over: laid in advance with its fellows, and often empty."""
    unit = rig.unit(want.head)
    return want.box == "sink" and not want.out and unit is not None and unit.family in ("tie line", "splitter")


def _of_a_channel(rig: Rig, want: Want) -> bool:
    """An input that a channel listens to: `channel-without-source` speaks of it."""
    if want.out:
        return False
    nodes = (rig.net.nodes[n] for n in behind(rig, want.head))
    return any(d["kind"] == k.CHANNEL and not d["channel"].source_key for d in nodes)


def _out(gap: Gap) -> bool:
    return bool(gap.wants) and gap.wants[0].out and not gap.wants[0].borrowed


def _is_here(rig: Rig, start: Start) -> bool:
    """The cable is the place to look at, not the bus."""
    return start.why == "uncabled" or (start.why == "no output" and not is_sent(rig, start.node))


def _finding(rig: Rig, want: Want, start: Start | None) -> Finding:
    assert want.cable is not None
    other: tuple[Label, ...] = ()
    if start and start.output:
        other = (
            Label(start.span, phrase("`%(output)s` leaves by a socket without a cable", output=start.output.name)),
        )
    elif start:
        other = (Label(start.span, phrase("this bus leaves by no socket")),)
    own = frozenset({start.node}) if start else frozenset()
    return Finding(
        "unfed-output",
        SEVERITY,
        _message(rig, want),
        Label(want.cable.start_span, phrase("this cable carries nothing")),
        other,
        effect=silence(rig, (want,), ""),
        remedy=_remedy(want, start),
        objects=names_of((want,)) | own,
    )


def _message(rig: Rig, want: Want) -> str:
    unit = rig.unit(want.head)
    if want.out:
        if unit and unit.family in ("desk", "stage box"):
            return phrase("no bus feeds `%(head)s`", head=want.head)
        return phrase("no signal feeds `%(head)s`", head=want.head)
    return phrase("nothing is plugged into `%(head)s`", head=want.head)


def _remedy(want: Want, start: Start | None) -> str:
    if start and start.output:
        name = start.output.name
        return phrase(
            "move the cable to `%(node)s`, or write `%(name)s: %(head)s` under `outputs`",
            node=start.node,
            name=name,
            head=want.head,
        )
    if start:
        _, _, name = start.node.partition(" bus ")
        return phrase("write `%(name)s: %(head)s` under `outputs`", name=name, head=want.head)
    if want.out:
        return phrase("send a bus to `%(head)s`, or take the cable out", head=want.head)
    return phrase("cable something to `%(head)s`", head=want.head)


def _idle_cables(rig: Rig) -> Iterator[Finding]:
    """Cables that nothing comes into and that lead to nothing either."""
    for cable in rig.plan.cables:
        node, unit = cable.start.id, rig.plan.units.get(cable.start.unit)
        if unit is None or unit.family not in SENDERS or unit.spare or node not in rig.net:
            continue
        many = cable.kind is not None and int(cable.kind.get("lines", 1)) > 1
        free = rig.net.nodes[node]["kind"] == k.SOCKET and not rig.net.pred[node] and node not in rig.driven
        end = rig.plan.units.get(cable.end.unit)
        if free and not many and not rig.heard.get(node) and not (end and end.spare):
            where = Label(cable.start_span, phrase("this cable carries nothing"))
            message, remedy = (
                phrase("nothing feeds `%(node)s`", node=node),
                phrase("send a bus to `%(node)s`, or take the cable out", node=node),
            )
            effect = phrase("nothing comes to `%(end)s`", end=cable.end.id)
            yield Finding(
                "unfed-output", SEVERITY, message, where, effect=effect, remedy=remedy,
                objects=frozenset({node, cable.end.id}),
            )  # fmt: skip
