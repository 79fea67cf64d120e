"""A cable that does not reach.

*What it finds*
A cable whose length is less than the straight distance between the places of its two ends.

*Why it matters on stage*
It is found out on the ladder, when everything else is laid.

*Put it right*
Write the length that the way takes, or look at the two places.

*Fails*
    plan: 1
    show: Fails
    units:
      desk: {kind: desk-16, at: 12 m out}
      top: {kind: powered-top-12, at: 4 m left 1 m out 2.6 m up}
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main}}
    buses: {main: {}}
    outputs: {main: desk/out 1}
    wiring: {xlr: ["desk/out 1 -> top/in, 2 m"]}

*Passes*
    plan: 1
    show: Passes
    units:
      desk: {kind: desk-16, at: 12 m out}
      top: {kind: powered-top-12, at: 4 m left 1 m out 2.6 m up}
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main}}
    buses: {main: {}}
    outputs: {main: desk/out 1}
    wiring: {xlr: ["desk/out 1 -> top/in, 20 m"]}

*Source*
Common practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from rigbook.compute.results import results
from rigbook.compute.stock import spans
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.findings.place import Span
from rigbook.graph.rig import Rig
from rigbook.plan.model import Cable
from rigbook.text.phrase import phrase
from rigbook.units.quantity import Amount

SEVERITY = Severity.WARNING
LEAST_M = 1.0
"""Places are typed by the metre: what lacks less may be how they are rounded (ours)."""


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each line of wiring, at the cable that lacks most."""
    worst: dict[Span, tuple[float, Cable, float]] = {}
    for cable, apart, way in spans(rig.plan, results(rig).places):
        lacks = apart - cable.length.value if cable.length is not None else 0.0
        if lacks > max(LEAST_M, worst[cable.span][0] if cable.span in worst else 0.0):
            worst[cable.span] = (lacks, cable, way)
    for lacks, cable, way in worst.values():
        yield Finding(
            "cable-too-short",
            SEVERITY,
            phrase(
                "`%(cable)s` is %(length)s long, its ends stand %(apart)s apart",
                cable=cable.name,
                length=cable.length,
                apart=Amount(f"{lacks + (cable.length.value if cable.length else 0.0):.0f}", "m"),
            ),
            Label(cable.span, phrase("does not reach")),
            effect=phrase("it is found out when the rest is laid, and no longer one is at hand"),
            remedy=phrase("write about `%(length)s`, or look at the two places", length=f"{way:g} m"),
            objects=_about(rig, cable),
        )


def _about(rig: Rig, cable: Cable) -> frozenset[str]:
    """The speakers at its ends, those further on, else the unit."""
    if cable.end.unit in rig.boxes:
        return frozenset({cable.end.unit, *({cable.start.unit} & set(rig.boxes))})
    boxes = rig.boxes_of(cable.end.id) if cable.end.id in rig.net else ()
    return frozenset(boxes) or frozenset({cable.end.unit})
