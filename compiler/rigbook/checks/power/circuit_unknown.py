"""A unit that no circuit feeds.

*What it finds*
In a plan that describes circuits: a unit that draws mains power and is on none of them, by `feeds` or by a mains cable
from a distribution on one.

*Why it matters on stage*
Whoever plugs it in takes the nearest outlet, and the sums of the circuits are wrong.

*Put it right*
Write it under `feeds` of a circuit.

*Fails*
    plan: 1
    show: Fails
    units:
      desk: desk-16
      amp: amplifier-2x500
      left, right: top-12
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

*Passes*
    plan: 1
    show: Passes
    units:
      desk: desk-16
      amp: amplifier-2x500
      left, right: top-12
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main}}
    buses: {main: {stereo: yes, limiter: +3 dBu}}
    outputs: {main left: desk/out 1, main right: desk/out 2}
    wiring:
      xlr: [desk/out 1-2 -> amp/in A-B]
      speaker-2.5-mm2: [amp/out A -> left, amp/out B -> right]
    power:
      supplies: {house: {rating: 63 A}}
      circuits:
        stage: {supply: house, rating: 16 A, feeds: [desk, amp]}

*Source*
Common practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from rigbook.compute.results import results
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.graph.rig import Rig
from rigbook.language.record import Record
from rigbook.text.phrase import phrase

SEVERITY = Severity.WARNING


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for all such units together: they are forgotten together."""
    mains = results(rig).mains
    if not mains.circuits or _unread(rig):
        return
    left = [d.unit for d in mains.draws if not d.circuit]
    if not left:
        return
    names = ", ".join(f"`{n}`" for n in left)
    yield Finding(
        "circuit-unknown",
        SEVERITY,
        phrase("no circuit feeds %(names)s", names=names),
        Label(rig.plan.units[left[0]].span, phrase("not on any circuit")),
        tuple(Label(rig.plan.units[n].span, phrase("nor this one")) for n in left[1:]),
        effect=phrase("it ends on the nearest outlet, whatever else is on that"),
        remedy=phrase("write %(names)s under `feeds` of a circuit", names=names),
        objects=frozenset(left),
    )


def _unread(rig: Rig) -> bool:
    """True where a circuit, or what it feeds, could not be read: it may feed what seems to be on none."""
    power = rig.plan.sections.get("power")
    circuits = power.get("circuits", ()) if isinstance(power, Record) else ()
    return any(not isinstance(e.value, Record) or "feeds" in e.value.broken for e in circuits)
