"""A long thin feed.

*What it finds*
A circuit whose cable, by its length and area, loses more than 5 % of the voltage (the limit `voltage-drop`) with loud
music. Where the supply says its own length and area, what its cable loses in the phase of the circuit is added.

*Why it matters on stage*
Amplifiers reset and lamps dim in the loud parts; the cable gets warm.

*Put it right*
Use a thicker cable or a nearer outlet, or spread the load over two feeds.

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
        stage: {supply: house, rating: 16 A, length: 80 m, area: 1.5 mm2, feeds: [desk, amp], other-load: 2 kW}

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
        stage: {supply: house, rating: 16 A, length: 30 m, area: 2.5 mm2, feeds: [desk, amp]}

*Source*
Ohm's law, IEC 60364-5-52, annex G (from memory). Elsewhere the local code decides.
"""

from __future__ import annotations

from collections.abc import Iterator

from rigbook.compute.figure import value_of
from rigbook.compute.results import results
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.graph.rig import Rig
from rigbook.text.phrase import phrase
from rigbook.units.quantity import Amount

SEVERITY = Severity.WARNING
YIELDS_TO = ("circuit-overload", "feed-too-thin")
SETTINGS = ("voltage-drop",)


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each circuit."""
    got = results(rig)
    for circuit in got.mains.circuits:
        drop = value_of(got.mains.whole_drop(circuit))
        if drop is None or drop <= 100 * got.limits["voltage-drop"]:
            continue
        yield Finding(
            "voltage-drop",
            SEVERITY,
            phrase(
                "the feed of `%(circuit)s` loses %(drop)s %% of the voltage with loud music",
                circuit=circuit.name,
                drop=Amount(f"{drop:.1f}"),
            ),
            Label(circuit.record.at("length"), phrase("%(eighth)s through this length", eighth=circuit.eighth)),
            (Label(circuit.record.at("area"), phrase("thin for it")),),
            effect=phrase("equipment resets in the loud parts, and the cable gets warm"),
            remedy=phrase("use a thicker cable, a nearer outlet, or two feeds"),
            objects=frozenset({circuit.name}),
        )
