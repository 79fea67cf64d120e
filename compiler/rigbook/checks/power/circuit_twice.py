"""A unit on two circuits.

*What it finds*
A unit that more circuits feed than it has mains inlets: it stands under `feeds` of two circuits, or under one and on
the mains cable of a distribution on another.

*Why it matters on stage*
It is plugged into one of them: the sums of the other are wrong, and whoever looks for its breaker switches off the
wrong one.

*Put it right*
Take it out of all but one.

*Fails*
    plan: 1
    show: Fails
    units: {desk: desk-16, amp: amplifier-2x500, left: top-12, right: top-12}
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main}}
    buses: {main: {stereo: yes, limiter: +3 dBu}}
    outputs: {main left: desk/out 1, main right: desk/out 2}
    wiring:
      xlr: [desk/out 1-2 -> amp/in A-B]
      speaker-2.5-mm2: [amp/out A -> left, amp/out B -> right]
    power:
      supplies: {house: {rating: 63 A}}
      circuits:
        stage: {supply: house, rating: 16 A, feeds: [amp, desk]}
        rear: {supply: house, rating: 16 A, feeds: desk}

*Passes*
    plan: 1
    show: Passes
    units: {desk: desk-16, amp: amplifier-2x500, left: top-12, right: top-12}
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main}}
    buses: {main: {stereo: yes, limiter: +3 dBu}}
    outputs: {main left: desk/out 1, main right: desk/out 2}
    wiring:
      xlr: [desk/out 1-2 -> amp/in A-B]
      speaker-2.5-mm2: [amp/out A -> left, amp/out B -> right]
    power:
      supplies: {house: {rating: 63 A}}
      circuits:
        stage: {supply: house, rating: 16 A, feeds: amp}
        rear: {supply: house, rating: 16 A, feeds: desk}

*Source*
Common practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from rigbook.compute.results import results
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.findings.place import Span
from rigbook.graph.rig import Rig
from rigbook.language.values.names import Name
from rigbook.plan.model import Unit
from rigbook.text.phrase import phrase, quoted

SEVERITY = Severity.WARNING


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each unit."""
    fed = _fed(rig)
    for unit in rig.plan.units.values():
        places = fed.get(unit.name, {})
        if len(places) <= max(_inlets(unit), 1):
            continue
        (first, at), *others = places.items()
        yield Finding(
            "circuit-twice",
            SEVERITY,
            phrase(
                "`%(unit)s` is on the circuits %(names)s",
                unit=unit.name,
                names=quoted(places),
            ),
            Label(others[0][1], phrase("on `%(name)s` here", name=others[0][0])),
            (
                Label(at, phrase("on `%(name)s` here", name=first)),
                *(Label(span, phrase("on `%(name)s` here", name=name)) for name, span in others[1:]),
            ),
            effect=phrase(
                "it is plugged into one of them: the breaker of `%(unit)s` is looked for in the wrong place",
                unit=unit.name,
            ),
            remedy=phrase(
                "leave `%(unit)s` on the circuit that it is plugged into, and take it off the rest", unit=unit.name
            ),
            objects=frozenset({unit.name}),
        )


def _fed(rig: Rig) -> dict[str, dict[str, Span]]:
    """By unit the circuits that feed it, with the place where that is typed: in `feeds`, or the mains cable."""
    mains = results(rig).mains
    out: dict[str, dict[str, Span]] = {}
    for name, record in mains.circuit_records.items():
        for unit in record.get("feeds", ()):
            span = unit.span if isinstance(unit, Name) else record.at("feeds")
            out.setdefault(str(unit), {}).setdefault(name, span)
    for cable in rig.plan.cables:
        above = rig.plan.units.get(cable.start.unit)
        circuit = mains.circuit_of.get(cable.start.unit)
        if above and above.family == "power distribution" and circuit:
            out.setdefault(cable.end.unit, {}).setdefault(circuit, cable.span)
    return out


def _inlets(unit: Unit) -> int:
    ports = unit.kind.ports.values() if unit.kind else ()
    return sum(p.level == "mains" and p.direction == "in" for p in ports)
