"""An output that is heard nowhere.

*What it finds*
A socket that a bus is assigned to and whose signal reaches no speaker, recorder or feed; an amplifier output that gets
signal and drives nothing.

*Why it matters on stage*
The meters of the desk move and nothing is heard. At the walk test this looks like a broken box.

*Put it right*
Make the cable that is missing, move the bus to the socket that has the cable, or take the output out of the plan.

*Fails*
    plan: 1
    show: Fails
    units: {desk: desk-16, left: powered-top-12, right: powered-top-12}
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main}}
    buses: {main: {stereo: yes}}
    outputs: {main left: desk/out 1, main right: desk/out 2}
    wiring: {xlr: [desk/out 1 -> left/in]}

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

from rigbook.checks.routing._say import names, silence, waiting, ways
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.graph.gaps import Gap, names_of
from rigbook.graph.kinds import bus_node
from rigbook.graph.loose_ends import Start
from rigbook.graph.rig import Rig
from rigbook.plan.model import Output

SEVERITY = Severity.ERROR
YIELDS_TO = ("bridge-misuse",)
ABSENCE = True


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each signal that stops outside the desk."""
    for gap in rig.gaps:
        start = gap.start
        if start is None or start.why not in ("uncabled", "stops", "amplifier"):
            continue
        # where a cable without a bus waits, `unfed-output` speaks for both
        if any(w.out and not w.borrowed for w in gap.wants):
            continue
        yield Finding(
            "orphan-output",
            SEVERITY,
            _message(rig, start),
            Label(start.span, _label(start)),
            _others(gap),
            path=_path(rig, start),
            effect=_effect(rig, gap, start),
            remedy=_remedy(rig, gap, start),
            objects=frozenset({start.node, *start.tails, *_legs(rig, start)}) | names_of(gap.wants),
        )


def _legs(rig: Rig, start: Start) -> tuple[str, ...]:
    """The bus legs whose signal it is, and the output as typed."""
    return (*rig.legs_of(start.node), start.output.name) if start.output else ()


def _effect(rig: Rig, gap: Gap, start: Start) -> str:
    lent = [w for w in gap.wants if w.borrowed]
    if lent and start.output:
        ends = [e for w in lent for e in w.ends]
        play = "play" if len(ends) > 1 else "plays"
        return f"{names(ends)} {play} what `{lent[0].head}` gives, not `{start.output.name}`"
    return silence(rig, gap.wants, f"nobody hears `{start.output.name if start.output else start.node}`")


def _message(rig: Rig, start: Start) -> str:
    if start.why == "amplifier":
        return f"`{start.node}` drives no speaker"
    name = start.output.name if start.output else ""
    spare = _spare(rig, start)
    if spare:
        return f"`{name}` goes to {names(spare)}, which is marked as a spare"
    if start.why == "stops":
        return f"`{name}` stops at {names(start.tails)} and is heard nowhere"
    return f"`{name}` leaves by `{start.node}`, where nothing is plugged in"


def _spare(rig: Rig, start: Start) -> list[str]:
    """Spare units at which the signal ends."""
    units = (rig.unit(t) for t in start.tails)
    return [u.name for u in units if u and u.spare]


def _label(start: Start) -> str:
    if start.why == "amplifier":
        return f"no cable leaves its `{start.node.partition('/')[2]}`"
    return "no cable goes on from here" if start.why == "uncabled" else "this signal is heard nowhere"


def _others(gap: Gap) -> tuple[Label, ...]:
    borrowed = (w for w in gap.wants if w.borrowed)
    rest = waiting(w for w in gap.wants if not w.borrowed)
    return (*(Label(w.span, f"{names(w.ends)} hangs on `{w.head}` together with another") for w in borrowed), *rest)


def _path(rig: Rig, start: Start) -> str:
    if start.why == "uncabled":
        return ""
    if start.why == "amplifier":
        return ways(rig, [(leg, start.node) for leg in rig.legs_of(start.node)[:1]])
    return ways(rig, [(_leg(start.output), t) for t in start.tails[:1]]) if start.output else ""


def _leg(output: Output) -> str:
    return bus_node(output.desk, output.bus, "left" if output.leg == "mono" else output.leg)


def _remedy(rig: Rig, gap: Gap, start: Start) -> str:
    spare = _spare(rig, start)
    if spare:
        return f"take `spare: yes` off {names(spare)}, or take the output out"
    from_ = start.tails[0] if start.why == "stops" else start.node
    if not gap.wants:
        what = f"what shall play `{start.output.name}`" if start.output else "a speaker"
        return f"cable `{from_}` to {what}, or take it out" if start.output else f"cable `{from_}` to {what}"
    first, *rest = gap.wants
    if first.borrowed and first.cable:
        return f"write `{from_} -> {first.cable.end.id}`"
    chain = " and on to ".join(f"`{w.head}`" for w in (first, *rest))
    return f"cable `{from_}` to {chain}"
