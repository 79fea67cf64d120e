"""A second box of a mono set that the link was never made to.

*What it finds*
A box or amplifier channel without a feed, beside a like one that is fed in mono and whose link-through is free.

*Why it matters on stage*
One of two subs or fills plays and the other is silent. It is easily missed, since the low end is heard anyway.

*Put it right*
Make the short cable from the link-through of the first to the input of the second.

*Fails*
    plan: 1
    show: Fails
    units: {desk: desk-16, top: powered-top-12, sub-left: powered-sub-18, sub-right: powered-sub-18}
    inputs: {1: {name: Bass, from: desk/line 1, di: di-passive, line: bass-guitar, source: bass, to: [main, subs]}}
    buses: {main: {low-cut: 100 Hz lr 24 dB/oct}, subs: {high-cut: 100 Hz lr 24 dB/oct}}
    outputs: {main: desk/out 1, subs: desk/out 2}
    wiring: {xlr: [desk/out 1 -> top/in, desk/out 2 -> sub-left/in]}

*Passes*
    plan: 1
    show: Passes
    units: {desk: desk-16, top: powered-top-12, sub-left: powered-sub-18, sub-right: powered-sub-18}
    inputs: {1: {name: Bass, from: desk/line 1, di: di-passive, line: bass-guitar, source: bass, to: [main, subs]}}
    buses: {main: {low-cut: 100 Hz lr 24 dB/oct}, subs: {high-cut: 100 Hz lr 24 dB/oct}}
    outputs: {main: desk/out 1, subs: desk/out 2}
    wiring: {xlr: [desk/out 1 -> top/in, desk/out 2 -> sub-left/in -> sub-right/in]}

*Source*
Common practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from rigbook.checks.routing._say import leg_name, names, silence
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.graph import kinds as k
from rigbook.graph.gaps import SETS, names_of
from rigbook.graph.loose_ends import Want
from rigbook.graph.rig import Rig
from rigbook.text.phrase import counted, phrase

SEVERITY = Severity.WARNING
YIELDS_TO = ("signal-loop",)
ABSENCE = True


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each free link, with the boxes or amplifier channels that it could feed."""
    wants = [g.wants[0] for g in rig.gaps if g.start is None and not g.wants[0].out]
    links = _links(rig) if wants else {}
    lines: dict[str, list[Want]] = {}
    for want in wants:
        unit = rig.unit(want.head)
        link = _free_link(rig, want, links.get(unit.kind.name, []) if unit and unit.kind else [])
        if link is not None:
            lines.setdefault(link, []).append(want)
    for link, lack in lines.items():
        yield _finding(rig, link, lack)


def _finding(rig: Rig, link: str, wants: list[Want]) -> Finding:
    """About what one free link could feed: a chain goes on from each to the next."""
    heads = names((w.head for w in wants), len(wants))
    leg = rig.legs_of(link)[0]
    return Finding(
        "link-missing",
        SEVERITY,
        counted(
            len(wants),
            "%(heads)s gets nothing, and the link of its twin is free",
            "%(heads)s get nothing, and the link of their twin is free",
            heads=heads,
        ),
        Label(wants[0].span, phrase("nothing comes here")),
        (
            Label(
                rig.net.nodes[link]["span"],
                phrase("`%(link)s` is free and carries `%(bus)s`", link=link, bus=leg_name(rig, leg)),
            ),
        ),
        effect=silence(rig, wants, ""),
        remedy=counted(
            len(wants),
            "cable `%(link)s` to %(heads)s, or mark the box `spare: yes`",
            "cable `%(link)s` to %(heads)s, from each on to the next, or mark the boxes `spare: yes`",
            link=link,
            heads=heads,
        ),
        objects=names_of(wants),
    )


def _links(rig: Rig) -> dict[str, list[str]]:
    """By kind of unit: every link-through that is free and fed in mono by a bus that feeds sets."""
    out: dict[str, list[str]] = {}
    for unit in rig.plan.units.values():
        for port in unit.kind.ports if unit.kind else ():
            node = f"{unit.name}/{port}"
            if unit.kind and port.startswith("link") and _is_free(rig, node) and _mono(rig, node):
                out.setdefault(unit.kind.name, []).append(node)
    return out


def _free_link(rig: Rig, want: Want, links: list[str]) -> str | None:
    """The link-through of a like box; of the same unit rather than of another."""
    own = want.head.partition("/")[0]
    boxes = {_kind(rig, e) for e in want.ends}
    level = rig.net.nodes[want.head]["port"].level
    for node in sorted(links, key=lambda n: n.partition("/")[0] != own):
        fed = next(iter(rig.net.pred[node]))
        alike = rig.net.nodes[node]["port"].level == level
        if alike and boxes & {_kind(rig, e) for e in rig.boxes_of(fed)}:
            return node
    return None


def _kind(rig: Rig, box: str) -> str:
    kind = rig.plan.units[box].kind
    return kind.name if kind else ""


def _is_free(rig: Rig, node: str) -> bool:
    return node in rig.net and not rig.net.succ[node] and bool(rig.net.pred[node]) and node in rig.driven


def _mono(rig: Rig, node: str) -> bool:
    """Fed by one mono bus, or by the sum of both sides of one."""
    legs = [rig.net.nodes[leg] for leg in rig.legs_of(node)]
    one = len({id(d["bus"]) for d in legs}) == 1 and all(d["kind"] == k.BUS for d in legs)
    return one and legs[0]["bus"].role in SETS and {d["leg"] for d in legs} in ({""}, {"left", "right"})
