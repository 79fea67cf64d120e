"""A bus that ends in a box that cannot do its work.

*What it finds*
A bus with the role of subs that ends in a box which is no sub; a main, fill, delay or monitor bus that ends in nothing
but subs. Two buses that were exchanged are one finding.

*Why it matters on stage*
The sub plays voices without treble, the top plays nothing but bass. A top that is driven with bass alone can fail.

*Put it right*
Exchange the two cables, or the two sockets under `outputs`.

*Fails*
    plan: 1
    show: Fails
    units: {desk: desk-16, top: powered-top-12, sub: powered-sub-18}
    inputs: {1: {name: Bass, from: desk/line 1, di: di-passive, line: bass-guitar, source: bass, to: [main, subs]}}
    buses: {main: {low-cut: 100 Hz lr 24 dB/oct}, subs: {high-cut: 100 Hz lr 24 dB/oct}}
    outputs: {main: desk/out 1, subs: desk/out 2}
    wiring: {xlr: [desk/out 1 -> sub/in, desk/out 2 -> top/in]}

*Passes*
    plan: 1
    show: Passes
    units: {desk: desk-16, top: powered-top-12, sub: powered-sub-18}
    inputs: {1: {name: Bass, from: desk/line 1, di: di-passive, line: bass-guitar, source: bass, to: [main, subs]}}
    buses: {main: {low-cut: 100 Hz lr 24 dB/oct}, subs: {high-cut: 100 Hz lr 24 dB/oct}}
    outputs: {main: desk/out 1, subs: desk/out 2}
    wiring: {xlr: [desk/out 1 -> top/in, desk/out 2 -> sub/in]}

*Source*
Common practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from rigbook.checks.routing._say import leg_name, names, ways
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.findings.place import Span
from rigbook.graph import kinds as k
from rigbook.graph.rig import Rig
from rigbook.text.phrase import counted, joined, phrase

SEVERITY = Severity.ERROR
YIELDS_TO = ("double-routed-speaker", "two-into-one", "orphan-output", "unfed-output", "signal-loop")

FULL_RANGE = ("mains", "fill", "delay", "monitor")


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each bus leg; one for two that were exchanged."""
    wrong = {leg: boxes for leg in rig.legs if (boxes := unfit(rig, leg))}
    done: set[str] = set()
    for leg, boxes in wrong.items():
        if leg in done:
            continue
        lows = _role(rig, leg) == "subs"
        other = next((o for o in wrong if o not in done and (_role(rig, o) == "subs") != lows), None)
        others = wrong.get(other or "", [])
        if lows and other is None:
            other, others = _astray(rig)
        done |= {leg, other or leg}
        yield _finding(rig, leg, boxes, other, others)
    if not wrong:
        yield from _turned_about(rig)


def _turned_about(rig: Rig) -> Iterator[Finding]:
    """Mains that end where a bus of delays, fills or a monitor mix should, and the other way round."""
    mains = [leg for leg in rig.legs if _role(rig, leg) == "mains"]
    for leg in mains:
        own = _boxes(rig, leg)
        helping = {str(rig.plan.units[b].record.get("supports") or "") for b in own}
        staged = bool(own) and all(_on_stage(rig, b) for b in own)
        for other in rig.legs:
            role, there = _role(rig, other), _boxes(rig, other)
            late = role in ("delay", "fill") and helping & set(there)
            covering = bool(there) and all(rig.plan.units[b].record.get("covers") for b in there)
            if late or (role == "monitor" and staged and covering):
                yield _exchanged(rig, leg, other, own, there)
                return


def _on_stage(rig: Rig, box: str) -> bool:
    """A box that aims at a named place, and is there for no area of the audience."""
    unit = rig.plan.units[box]
    return unit.aim is not None and bool(unit.aim.target) and not unit.record.get("covers")


def _exchanged(rig: Rig, leg: str, other: str, boxes: list[str], others: list[str]) -> Finding:
    one, two = leg_name(rig, leg), leg_name(rig, other)
    return Finding(
        "wrong-box",
        SEVERITY,
        phrase(
            "`%(first)s` ends in %(names)s, `%(other)s` in %(others)s",
            first=one,
            names=names(boxes),
            other=two,
            others=names(others),
        ),
        Label(_leaves(rig, leg), phrase("`%(bus)s` leaves here", bus=one)),
        (
            Label(_leaves(rig, other), phrase("`%(bus)s` leaves here", bus=two)),
            *(Label(rig.plan.units[b].span, _sort(rig, b)) for b in (*boxes[:2], *others[:2])),
        ),
        path=ways(rig, [(leg, boxes[0]), (other, others[0])]),
        effect=phrase("%(names)s and %(others)s play each other's signal", names=names(boxes), others=names(others)),
        remedy=phrase("exchange the two cables, or the two sockets under `outputs`"),
        objects=frozenset({*boxes, *others}),
    )


def _astray(rig: Rig) -> tuple[str | None, list[str]]:
    """A full-range leg with a sub among its tops: where the sub is that a bus of subs lacks."""
    for leg in rig.legs:
        subs = [b for b in _boxes(rig, leg) if _is_sub(rig, b)] if _role(rig, leg) in FULL_RANGE else []
        if subs:
            return leg, subs
    return None, []


def _role(rig: Rig, leg: str) -> str:
    return str(rig.net.nodes[leg]["bus"].role)


def unfit(rig: Rig, leg: str) -> list[str]:
    """The boxes of a leg that are not for it; empty where there are none or where they have fit company."""
    role = _role(rig, leg)
    if role != "subs" and role not in FULL_RANGE:
        return []
    own = _boxes(rig, leg)
    subs = [b for b in own if _is_sub(rig, b)]
    if role == "subs":
        return [b for b in own if b not in subs]
    return subs if subs and len(subs) == len(own) and not _all_subs(rig, leg) else []


def _boxes(rig: Rig, leg: str) -> list[str]:
    outs = (e[1] for e, d in rig.edges_out(leg) if d["kind"] == k.LEAVE)
    return list(dict.fromkeys(b for node in outs for b in rig.boxes_of(node)))


def _is_sub(rig: Rig, box: str) -> bool:
    kind = rig.plan.units[box].kind
    return bool(kind and kind.get("box") == "sub")


def _all_subs(rig: Rig, leg: str) -> bool:
    """The other side of a stereo bus ends in subs too: a pair of subs on purpose."""
    bus = rig.net.nodes[leg]["bus"]
    others = [b for o in bus.legs if (n := k.bus_node(bus.desk, bus.name, o)) != leg for b in _boxes(rig, n)]
    return bool(others) and all(_is_sub(rig, b) for b in others)


def _finding(rig: Rig, leg: str, boxes: list[str], other: str | None, others: list[str]) -> Finding:
    first = leg_name(rig, leg)
    message = phrase("`%(first)s` ends in %(names)s, %(what)s", first=first, names=names(boxes), what=_what(rig, boxes))
    if other:
        message = phrase(
            "`%(first)s` ends in %(names)s, `%(other)s` in %(others)s",
            first=first,
            names=names(boxes),
            other=leg_name(rig, other),
            others=names(others),
        )
    pairs = [(leg, boxes[0]), *([(other, others[0])] if other else [])]
    labels = [Label(_leaves(rig, other), phrase("`%(bus)s` leaves here", bus=leg_name(rig, other)))] if other else []
    labels += [Label(rig.plan.units[b].span, _sort(rig, b)) for b in (*boxes[:2], *others[:2])]
    return Finding(
        "wrong-box",
        SEVERITY,
        message,
        Label(_leaves(rig, leg), phrase("`%(bus)s` leaves here", bus=first)),
        tuple(labels),
        path=ways(rig, pairs),
        effect=_effect(rig, [*boxes, *others]),
        remedy=phrase("exchange the two cables, or the two sockets under `outputs`")
        if other
        else phrase("cable `%(first)s` to a box that is built for it", first=first),
        objects=frozenset({*boxes, *others}),
    )


def _what(rig: Rig, boxes: list[str]) -> str:
    if _is_sub(rig, boxes[0]):
        return phrase("nothing but subs") if len(boxes) > 1 else phrase("which is a sub")
    return phrase("which are no subs") if len(boxes) > 1 else phrase("which is no sub")


def _sort(rig: Rig, box: str) -> str:
    kind = rig.plan.units[box].kind
    return kind.title if kind else box


def _effect(rig: Rig, boxes: list[str]) -> str:
    subs = [b for b in boxes if _is_sub(rig, b)]
    rest = [b for b in boxes if b not in subs]
    lows = counted(
        len(subs),
        "%(names)s plays nothing but the lows of it",
        "%(names)s play nothing but the lows of it",
        names=names(subs),
    )
    bass = counted(len(rest), "%(names)s gets nothing but bass", "%(names)s get nothing but bass", names=names(rest))
    return joined(text for text, about in ((lows, subs), (bass, rest)) if about)


def _leaves(rig: Rig, leg: str) -> Span:
    return next(d["span"] for _, d in rig.edges_out(leg) if d["kind"] == k.LEAVE)  # type: ignore[no-any-return]
