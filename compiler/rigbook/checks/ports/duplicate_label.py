"""Two things with one name on them.

*What it finds*
Two cables with the same label, two channels of one desk, or two units, with the same words written on them. Lines of
one multicore, and cables written in one line of wiring, share a label on purpose.

*Why it matters on stage*
"Take W7" means two cables, and the wrong one gets pulled.

*Put it right*
Give each a label of its own.

*Fails*
    plan: 1
    show: Fails
    units: {desk: desk-16, left: powered-top-12, right: powered-top-12}
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main}}
    buses: {main: {stereo: yes}}
    outputs: {main left: desk/out 1, main right: desk/out 2}
    wiring: {xlr: ["desk/out 1 -> left/in, label W1", "desk/out 2 -> right/in, label W1"]}

*Passes*
    plan: 1
    show: Passes
    units: {desk: desk-16, left: powered-top-12, right: powered-top-12}
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main}}
    buses: {main: {stereo: yes}}
    outputs: {main left: desk/out 1, main right: desk/out 2}
    wiring: {xlr: ["desk/out 1 -> left/in, label W1", "desk/out 2 -> right/in, label W2"]}

*Source*
Common practice.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Final

from rigbook.findings.finding import Finding, Label, Severity
from rigbook.findings.place import Span
from rigbook.graph.rig import Rig
from rigbook.text.phrase import phrase

SEVERITY = Severity.WARNING
YIELDS_TO = ("double-patched-input",)
CABLES: Final = phrase("%(count)s cables are called `%(label)s`")
UNITS: Final = phrase("%(count)s units are called `%(label)s`")
CHANNELS: Final = phrase("%(count)s channels are called `%(label)s`")


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each label that several things bear."""
    plan = rig.plan
    cables = {c.span: (c.label, c.span, frozenset({c.name})) for c in plan.cables if c.label}
    yield from _twice(CABLES, cables.values())
    titles = (
        (u.title, u.record.at("title"), frozenset({u.name})) for u in plan.units.values() if u.record.get("title")
    )
    yield from _twice(UNITS, titles)
    for desk in dict.fromkeys(c.desk for c in plan.channels):
        mine = (c for c in plan.channels if c.desk == desk)
        yield from _twice(CHANNELS, ((c.name, c.record.at("name"), frozenset(s.id for s in c.sockets)) for c in mine))


def _twice(what: str, things: Iterable[tuple[str, Span, frozenset[str]]]) -> Iterator[Finding]:
    seen: dict[str, list[tuple[str, Span, frozenset[str]]]] = {}
    for thing in things:
        seen.setdefault(" ".join(thing[0].casefold().split()), []).append(thing)
    for same in seen.values():
        if len(same) < 2:
            continue
        (_, first, _), (label, again, _), *rest = same
        yield Finding(
            "duplicate-label",
            SEVERITY,
            phrase(what, count=phrase("two") if len(same) == 2 else len(same), label=label),
            Label(again, phrase("called so again")),
            (Label(first, phrase("called so here")), *(Label(span) for _, span, _ in rest)),
            effect=phrase("nobody knows which of them `%(label)s` means", label=label),
            remedy=phrase("give each a name of its own"),
            objects=frozenset().union(*(objects for _, _, objects in same)),
        )
