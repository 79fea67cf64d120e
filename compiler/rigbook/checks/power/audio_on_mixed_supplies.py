"""Audio on two supplies.

*What it finds*
Desk, stage box, processor, amplifiers, radio or powered speakers on circuits of two supplies.

*Why it matters on stage*
Between two supplies the earths differ in voltage: it hums, and a shield between them carries current.

*Put it right*
Put all audio on one supply, or part the two with transformers or an optical link and accept it with that reason.

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
      supplies: {house: {rating: 63 A}, generator: {rating: 32 A}}
      circuits:
        stage: {supply: house, rating: 16 A, feeds: amp}
        van: {supply: generator, rating: 16 A, feeds: desk}

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
      supplies: {house: {rating: 63 A}, generator: {rating: 32 A}}
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
from rigbook.text.phrase import phrase

SEVERITY = Severity.WARNING


AUDIO = ("desk", "stage box", "splitter", "processor", "amplifier", "powered speaker", "radio", "player", "recorder")


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each supply that feeds the lesser part of the audio."""
    mains = results(rig).mains
    # a supply that could not be found may be the same
    supply_of = {c.name: c.supply for c in mains.circuits if "supply" not in c.record.broken}
    by_supply: dict[str, list[str]] = {}
    for draw in mains.draws:
        supply = supply_of.get(draw.circuit, "")
        if supply and rig.plan.units[draw.unit].family in AUDIO:
            by_supply.setdefault(supply, []).append(draw.unit)
    if len(by_supply) < 2:
        return
    usual = max(by_supply, key=lambda s: len(by_supply[s]))
    for supply, units in by_supply.items():
        if supply == usual:
            continue
        circuit = next(c for c in mains.circuits if c.supply == supply)
        yield Finding(
            "audio-on-mixed-supplies",
            SEVERITY,
            phrase(
                "`%(unit)s` is on `%(supply)s`, other audio is on `%(usual)s`",
                unit=units[0],
                supply=supply,
                usual=usual,
            ),
            Label(circuit.record.at("supply"), phrase("another supply than the rest of the audio")),
            (Label(rig.plan.units[by_supply[usual][0]].span, phrase("on `%(usual)s`", usual=usual)),),
            effect=phrase("the two earths differ, and it hums"),
            remedy=phrase(
                "feed `%(unit)s` from `%(usual)s`, or part them with transformers or an optical link",
                unit=units[0],
                usual=usual,
            ),
            objects=frozenset({*units, circuit.name}),
        )
