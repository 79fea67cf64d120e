"""A circuit with more on it than its breaker carries.

*What it finds*
A circuit whose units, with loud music (1/8 of the rated output of every amplifier), draw more than 80 % of its rating
(the limit `circuit-share`); or a phase of a supply whose circuits together draw more of its rating than that.

*Why it matters on stage*
The breaker trips in the loudest song.

*Put it right*
Move units to another circuit. The Power page shows what each draws. Mains work is for competent people and local
codes.

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
        stage: {supply: house, rating: 16 A, feeds: [desk, amp], other-load: 3 kW}

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
1/8 power: IEC 62368-1, annex E (clause from memory); 80 %: NEC (NFPA 70) 210.20(A). Elsewhere the local code decides.
"""

from __future__ import annotations

from collections.abc import Iterator

from rigbook.compute.figure import value_of
from rigbook.compute.results import results
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.graph.rig import Rig
from rigbook.text.phrase import phrase
from rigbook.units.quantity import Amount

SEVERITY = Severity.ERROR
SETTINGS = ("circuit-share",)


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each circuit, and for each supply none of whose circuits is at fault by itself."""
    yield from _circuits(rig)
    got = results(rig)
    share = got.limits["circuit-share"]
    for supply in got.mains.supplies:
        mine = [c for c in got.mains.circuits if c.supply == supply.name]
        phase, load = max(supply.by_phase, key=lambda each: each[1].value)
        over = supply.rating is not None and load.value > supply.rating * share + 0.05
        if over and len(mine) > 1 and not any((value_of(c.left) or 0.0) < -0.05 for c in mine):
            yield Finding(
                "circuit-overload",
                SEVERITY,
                phrase(
                    "%(load)s on %(phase)s of `%(supply)s` with loud music, %(allowed)s A are left to it",
                    load=load,
                    phase=phase,
                    supply=supply.name,
                    allowed=Amount(f"{(supply.rating or 0.0) * share:.1f}"),
                ),
                Label(supply.record.at("rating"), phrase("its circuits together draw %(load)s", load=load)),
                effect=phrase("the breaker trips when the show is loudest"),
                remedy=phrase("move something to another phase or supply"),
                objects=frozenset({supply.name}),
            )


def _circuits(rig: Rig) -> Iterator[Finding]:
    for circuit in results(rig).mains.circuits:
        allowed = value_of(circuit.allowed)
        if allowed is None or circuit.eighth.value <= allowed + 0.05:
            continue
        largest = max(circuit.eighth.inputs, key=lambda part: float(part[1]), default=("", 0.0, ""))
        yield Finding(
            "circuit-overload",
            SEVERITY,
            phrase(
                "%(eighth)s on `%(circuit)s` with loud music, %(allowed)s A are left to it",
                eighth=circuit.eighth,
                circuit=circuit.name,
                allowed=Amount(f"{allowed:.1f}"),
            ),
            Label(
                circuit.record.at("feeds"),
                phrase(
                    "these draw %(eighth)s at %(volts)s V", eighth=circuit.eighth, volts=Amount(f"{circuit.volts:g}")
                ),
            ),
            (Label(circuit.record.at("rating"), phrase("%(rating)s A breaker", rating=Amount(f"{circuit.rating:g}"))),),
            effect=phrase("the breaker trips when the show is loudest"),
            remedy=phrase("move something to another circuit; `%(largest)s` draws most", largest=largest[0])
            if largest[0] in rig.plan.units
            else phrase("move something to another circuit"),
            objects=frozenset({circuit.name}),
        )
