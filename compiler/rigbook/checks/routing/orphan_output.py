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

from rigbook.checks.ports._ends import row
from rigbook.checks.routing._say import names, silence, waiting, ways
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.graph.gaps import Gap, names_of
from rigbook.graph.kinds import bus_node
from rigbook.graph.loose_ends import Start, Want
from rigbook.graph.rig import Rig
from rigbook.plan.model import Output
from rigbook.text.phrase import counted, phrase

SEVERITY = Severity.ERROR
YIELDS_TO = ("bridge-misuse",)
ABSENCE = True


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each signal that stops outside the desk; one for a run of them that waits for one cable."""
    runs = _runs(rig)
    together = [gap for run in runs for gap in run]
    yield from (_run(rig, run) for run in runs)
    for gap in rig.gaps:
        start = gap.start
        if start is None or start.why not in ("uncabled", "stops", "amplifier") or gap in together:
            continue
        # where a cable without a bus waits, `unfed-output` speaks for both
        if any(w.out and not w.borrowed for w in gap.wants):
            continue
        instead = tuple(filter(None, (_instead(rig, start),)))
        yield Finding(
            "orphan-output",
            SEVERITY,
            _message(rig, start),
            Label(start.span, _label(start)),
            (*_others(gap), *waiting(instead)),
            path=_path(rig, start),
            effect=_effect(rig, gap, start),
            remedy=_remedy(rig, gap, start),
            objects=frozenset({start.node, *start.tails, *_legs(rig, start)}) | names_of((*gap.wants, *instead)),
        )


def _runs(rig: Rig) -> list[list[Gap]]:
    """Gaps whose sockets lie side by side at both ends: what is missing is most often the one line of a run."""
    found: dict[tuple[str, str], list[Gap]] = {}
    for gap in rig.gaps:
        start, wants = gap.start, gap.wants
        bare = len(wants) == 1 and not wants[0].out and not wants[0].borrowed
        if start is not None and start.why == "uncabled" and start.output and bare:
            units = (start.node.partition("/")[0], wants[0].head.partition("/")[0])
            found.setdefault(units, []).append(gap)
    runs = (sorted(gaps, key=lambda g: _number(g.start.node if g.start else "")) for gaps in found.values())
    return [gaps for gaps in runs if len(gaps) > 1 and all(_rows(gaps))]


def _number(node: str) -> tuple[int, str]:
    last = node.rpartition(" ")[2]
    return (int(last) if last.isdecimal() else 0, last)


def _rows(gaps: list[Gap]) -> tuple[str, str]:
    return row([g.start.node for g in gaps if g.start]), row([g.wants[0].head for g in gaps])


def _run(rig: Rig, gaps: list[Gap]) -> Finding:
    here, there = _rows(gaps)
    starts, wants = [g.start for g in gaps if g.start], [g.wants[0] for g in gaps]
    outputs = [s.output.name for s in starts if s.output]
    return Finding(
        "orphan-output",
        SEVERITY,
        phrase("%(outputs)s leave by `%(sockets)s`, where nothing is plugged in", outputs=names(outputs), sockets=here),
        Label(starts[0].span, _label(starts[0])),
        (*(Label(s.span, phrase("nor from here")) for s in starts[1:3]), *waiting(wants[:1])),
        effect=silence(rig, wants, ""),
        remedy=phrase("write a cable under `wiring`: `%(here)s -> %(there)s`", here=here, there=there),
        objects=frozenset(n for s in starts for n in (s.node, *s.tails, *_legs(rig, s))) | names_of(wants),
    )


def _legs(rig: Rig, start: Start) -> tuple[str, ...]:
    """The bus legs whose signal it is, and the output as typed."""
    return (*rig.legs_of(start.node), start.output.name) if start.output else ()


def _effect(rig: Rig, gap: Gap, start: Start) -> str:
    lent = [w for w in gap.wants if w.borrowed]
    if lent and start.output:
        ends = [e for w in lent for e in w.ends]
        return counted(
            len(ends),
            "%(names)s plays what `%(head)s` gives, not `%(output)s`",
            "%(names)s play what `%(head)s` gives, not `%(output)s`",
            names=names(ends),
            head=lent[0].head,
            output=start.output.name,
        )
    return silence(
        rig, gap.wants, phrase("nobody hears `%(output)s`", output=start.output.name if start.output else start.node)
    )


def _message(rig: Rig, start: Start) -> str:
    if start.why == "amplifier":
        return phrase("`%(node)s` drives no speaker", node=start.node)
    name = start.output.name if start.output else ""
    spare = _spare(rig, start)
    if spare:
        return phrase("`%(name)s` goes to %(names)s, which is marked as a spare", name=name, names=names(spare))
    if start.why == "stops":
        return phrase("`%(name)s` stops at %(names)s and is heard nowhere", name=name, names=names(start.tails))
    return phrase("`%(name)s` leaves by `%(node)s`, where nothing is plugged in", name=name, node=start.node)


def _spare(rig: Rig, start: Start) -> list[str]:
    """Spare units at which the signal ends."""
    units = (rig.unit(t) for t in start.tails)
    return [u.name for u in units if u and u.spare]


def _instead(rig: Rig, start: Start) -> Want | None:
    """A box like the spare at which the signal ends that is in use and waits for one."""
    kinds = {unit.kind.name for n in _spare(rig, start) if (unit := rig.plan.units[n]).kind}
    waits = (g.wants[0] for g in rig.gaps if g.start is None and g.wants[0].cable is None)
    alike = (w for w in waits if (u := rig.plan.units.get(w.ends[0])) and u.kind and u.kind.name in kinds)
    return next(alike, None)


def _label(start: Start) -> str:
    if start.why == "amplifier":
        return phrase("no cable leaves its `%(socket)s`", socket=start.node.partition("/")[2])
    return phrase("no cable goes on from here") if start.why == "uncabled" else phrase("this signal is heard nowhere")


def _others(gap: Gap) -> tuple[Label, ...]:
    borrowed = (w for w in gap.wants if w.borrowed)
    rest = waiting(w for w in gap.wants if not w.borrowed)
    return (
        *(
            Label(
                w.span, phrase("%(names)s hangs on `%(head)s` together with another", names=names(w.ends), head=w.head)
            )
            for w in borrowed
        ),
        *rest,
    )


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
    instead = _instead(rig, start)
    if spare and instead:
        return phrase(
            "write `%(box)s` for `%(spare)s` in its cable, or take `spare: yes` off `%(spare)s`",
            box=instead.ends[0],
            spare=spare[0],
        )
    if spare:
        return phrase("take `spare: yes` off %(names)s, or take the output out", names=names(spare))
    from_ = start.tails[0] if start.why == "stops" else start.node
    if not gap.wants:
        if start.output is None:
            return phrase("cable `%(start)s` to a speaker", start=from_)
        return phrase(
            "cable `%(start)s` to what shall play `%(output)s`, or take it out", start=from_, output=start.output.name
        )
    first, *rest = gap.wants
    if first.borrowed and first.cable:
        return phrase("write `%(line)s`", line=f"{from_} -> {first.cable.end.id}")
    if first.cable and from_.partition("/")[0] == first.head.partition("/")[0]:
        # both ends of one panel: the cable begins at a socket beside
        return phrase("write `%(line)s`", line=f"{from_} -> {first.cable.end.id}")
    chain: str = f"`{first.head}`"
    for want in rest:
        chain = phrase("%(chain)s and on to `%(head)s`", chain=chain, head=want.head)
    return phrase("cable `%(start)s` to %(chain)s", start=from_, chain=chain)
