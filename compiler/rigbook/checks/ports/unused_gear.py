"""Something that is there and does nothing.

*What it finds*
A unit that no cable, channel, output, rack or radio channel names, and that is not marked as a spare. Racks, stands,
cases, adaptors and power distribution are left alone.

*Why it matters on stage*
It is carried in, somebody asks what it is for, and nobody knows; or its cables were forgotten.

*Put it right*
Cable it, mark it `spare: yes`, or take it out.

*Fails*
    plan: 1
    show: Fails
    units: {desk: desk-16, player: player-2, left: powered-top-12}
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main}}
    buses: {main: {}}
    outputs: {main: desk/out 1}
    wiring: {xlr: [desk/out 1 -> left/in]}

*Passes*
    plan: 1
    show: Passes
    units: {desk: desk-16, player: {kind: player-2, spare: yes}, left: powered-top-12}
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main}}
    buses: {main: {}}
    outputs: {main: desk/out 1}
    wiring: {xlr: [desk/out 1 -> left/in]}

*Source*
Common practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from rigbook.findings.finding import Finding, Label, Severity
from rigbook.graph.rig import Rig
from rigbook.language.record import Record
from rigbook.plan.model import Plan
from rigbook.plan.words import family_words
from rigbook.text.phrase import phrase

SEVERITY = Severity.NOTE
YIELDS_TO = ("silent-speaker", "link-missing", "orphan-output", "unfed-output")
ABSENCE = True
QUIET = ("rack", "stand", "case", "cable", "adaptor", "power distribution")
"""Families whose use no line of the plan says."""


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each unit."""
    used = _used(rig.plan)
    desks = [u for u in rig.plan.units.values() if u.family == "desk" and not u.spare]
    for unit in rig.plan.units.values():
        alone = unit.family == "desk" and len(desks) == 1
        if unit.kind is None or unit.spare or unit.family in QUIET or unit.name in used or alone:
            continue
        yield Finding(
            "unused-gear",
            SEVERITY,
            phrase("nothing in the plan uses `%(unit)s`", unit=unit.name),
            Label(unit.span, phrase("a %(family)s without a cable", family=family_words(unit.family))),
            effect=phrase("`%(unit)s` is carried in for nothing, or its cables were forgotten", unit=unit.name),
            remedy=phrase("cable it, write `spare: yes`, or take it out"),
            objects=frozenset({unit.name}),
        )


def _used(plan: Plan) -> set[str]:
    used = {s.unit for c in plan.cables for s in (c.start, c.end)}
    used |= {s.unit for c in plan.channels for s in (*c.sockets, *c.plugged)} | {c.desk for c in plan.channels}
    used |= {s.unit for o in plan.outputs for s, _ in o.sockets} | {b.desk for b in plan.buses.values()}
    used |= {item.unit for rack in plan.racks.values() for _, item in (*rack.front, *rack.rear)}
    radio = plan.sections.get("radio")
    return used | {e.name for e in (radio.get("channels", ()) if isinstance(radio, Record) else ())}
