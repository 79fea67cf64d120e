"""A cable longer than its kind allows.

*What it finds*
A cable, other than a network cable, that is longer than the `max-length` of its kind.

*Why it matters on stage*
The kind states the length up to which it works as it should: beyond it level, treble or the signal itself is lost.

*Put it right*
Take a shorter way or another kind of cable.

*Fails*
    plan: 1
    show: Fails
    limits: {unbalanced-length: 12 m}
    kinds:
      stage-keys:
        is: player
        title: keyboard with jacks
        ports: {out: {connector: jack-unbalanced, level: line, direction: out}}
    units: {desk: desk-16, keys: stage-keys, left: powered-top-12}
    inputs: {1: {name: Keys, from: desk/line 1, source: keys, to: main}}
    buses: {main: {}}
    outputs: {main: desk/out 1}
    wiring: {jack: ["keys/out -> desk/line 1, 10 m"], xlr: [desk/out 1 -> left/in]}

*Passes*
    plan: 1
    show: Passes
    kinds:
      stage-keys:
        is: player
        title: keyboard with jacks
        ports: {out: {connector: jack-unbalanced, level: line, direction: out}}
    units: {desk: desk-16, keys: stage-keys, left: powered-top-12}
    inputs: {1: {name: Keys, from: desk/line 1, source: keys, to: main}}
    buses: {main: {}}
    outputs: {main: desk/out 1}
    wiring: {jack: ["keys/out -> desk/line 1, 3 m"], xlr: [desk/out 1 -> left/in]}

*Source*
The figure of the kind.
"""

from __future__ import annotations

from collections.abc import Iterator

from rigbook.checks.ports._ends import faulty, more
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.graph.rig import Rig
from rigbook.plan.model import Cable
from rigbook.text.phrase import phrase
from rigbook.units.quantity import Quantity

SEVERITY = Severity.WARNING
YIELDS_TO = ("unbalanced-too-long", "connector-mismatch")


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each line of wiring."""
    network = {id(c) for c in rig.carriers.cables}
    for (cable, _, _), count in faulty(rig, lambda c, *_: id(c) not in network and _over(c)):
        yield Finding(
            "cable-too-long",
            SEVERITY,
            phrase(
                "the cable `%(cable)s` is %(length)s long%(more)s",
                cable=cable.name,
                length=cable.length,
                more=more(count),
            ),
            Label(
                cable.span,
                phrase(
                    "`%(kind_name)s` goes to %(length)s",
                    kind_name=cable.kind_name,
                    length=cable.kind.get("max-length") if cable.kind else "",
                ),
            ),
            effect=phrase("the signal suffers on the way"),
            remedy=phrase("take a shorter way or another kind of cable"),
            objects=frozenset({cable.name}),
        )


def _over(cable: Cable) -> bool:
    most = cable.kind.get("max-length") if cable.kind else None
    return isinstance(most, Quantity) and cable.length is not None and cable.length.value > most.value * 1.0001
