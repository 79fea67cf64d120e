"""Phases that carry unlike loads.

*What it finds*
A three-phase supply of which one phase carries more than half of its rating, while the loads of the phases depart from
their mean by more than 30 % (the limit `phase-unbalance`), or while several circuits are on that one phase and none on
the others.

*Why it matters on stage*
One phase trips while the others idle, and on a generator the voltages drift apart.

*Put it right*
Move circuits from the full phase to the others, as far as audio stays on one supply.

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
      supplies: {house: {phases: 3, rating: 32 A}}
      circuits:
        stage: {supply: house, phase: L1, rating: 32 A, feeds: [desk, amp], other-load: 4 kW}
        kitchen: {supply: house, phase: L2, rating: 16 A, other-load: 1 kW}

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
      supplies: {house: {phases: 3, rating: 32 A}}
      circuits:
        stage: {supply: house, phase: L1, rating: 16 A, feeds: [desk, amp]}
        kitchen: {supply: house, phase: L2, rating: 16 A, other-load: 1 kW}

*Source*
NEMA MG 1 (definition, from memory) used for currents; the limit is common practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from rigbook.compute.figure import value_of
from rigbook.compute.results import results
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.graph.rig import Rig
from rigbook.text.phrase import joined, phrase

SEVERITY = Severity.WARNING
YIELDS_TO = ("circuit-overload",)
SETTINGS = ("phase-unbalance",)

HALF = 0.5
UNRATED_A = 32.0
"""Taken for a supply that states no rating (common practice)."""


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each supply."""
    got = results(rig)
    most = 100 * got.limits["phase-unbalance"]
    for supply in got.mains.supplies:
        unbalance = value_of(supply.unbalance)
        phase, full = max(supply.by_phase, key=lambda p: p[1].value)
        circuits = [c for c in got.mains.circuits if c.supply == supply.name and c.phase == phase]
        if unbalance is None and supply.phases > 1 and len(circuits) > 1:
            # the others carry nothing at all
            unbalance = 100.0
        if unbalance is None or unbalance <= most or full.value <= HALF * (supply.rating or UNRATED_A):
            continue
        others = joined(joined((p, a.text), " ") for p, a in supply.by_phase if p != phase)
        if any((value_of(c.left) or 0.0) < 0 for c in circuits):
            continue  # what is too much for the circuit has been told
        on = [c.record for c in circuits]
        yield Finding(
            "phase-unbalanced",
            SEVERITY,
            phrase(
                "phase %(phase)s of `%(supply)s` carries %(full)s, %(others)s",
                phase=phase,
                supply=supply.name,
                full=full,
                others=others,
            ),
            Label(on[0].span if on else supply.record.span, phrase("on %(phase)s", phase=phase)),
            effect=phrase("%(phase)s trips while the others idle", phase=phase),
            remedy=phrase("move a circuit from %(phase)s to another phase", phase=phase),
            objects=frozenset({supply.name}),
        )
