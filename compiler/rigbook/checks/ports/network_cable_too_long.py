"""A network cable beyond its reference length.

*What it finds*
A network cable that is longer than its kind allows; 100 m where the kind says nothing. 100 m is the length of the
reference channel in the cabling standards, cords at both ends included.

*Why it matters on stage*
The link between desk and stage box drops out, perhaps only when the cable is warm, and everything is silent at once.

*Put it right*
Take a shorter way, put a switch or an optical link between, or use a kind whose maker states more.

*Fails*
    plan: 1
    show: Fails
    units: {desk: desk-16, box: stage-box-16}
    wiring: {network: ["desk/net A -> box/net A, 120 m"]}

*Passes*
    plan: 1
    show: Passes
    units: {desk: desk-16, box: stage-box-16}
    wiring: {network: ["desk/net A -> box/net A, 75 m"]}

*Source*
ISO/IEC 11801-1 and ANSI/TIA-568 (channel of 100 m).
"""

from __future__ import annotations

from collections.abc import Iterator

from rigbook.findings.finding import Finding, Label, Severity
from rigbook.graph.rig import Rig
from rigbook.text.phrase import phrase
from rigbook.units.quantity import Amount, Quantity

SEVERITY = Severity.ERROR
REFERENCE_M = 100.0
"""Length of the reference channel: ANSI/TIA-568; ISO/IEC 11801-1."""


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each network cable."""
    for cable in rig.carriers.cables:
        stated = cable.kind.get("max-length") if cable.kind else None
        most = stated.value if isinstance(stated, Quantity) else REFERENCE_M
        if cable.length is None or cable.length.value <= most * 1.0001:
            continue
        why = (
            phrase("the length of the standards' reference channel")
            if most == REFERENCE_M
            else phrase("what its kind allows")
        )
        yield Finding(
            "network-cable-too-long",
            SEVERITY,
            phrase("the network cable `%(cable)s` is %(length)s long", cable=cable.name, length=cable.length),
            Label(cable.span, phrase("over %(most)s m, %(why)s", most=Amount(f"{most:g}"), why=why)),
            effect=phrase(
                "`%(end)s` and `%(start)s` lose each other, at first now and then",
                end=cable.end.unit,
                start=cable.start.unit,
            ),
            remedy=phrase("take a shorter way, or put a switch or an optical link between"),
            objects=frozenset({cable.name}),
        )
