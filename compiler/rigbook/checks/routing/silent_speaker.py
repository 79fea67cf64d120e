"""A speaker that nothing is plugged into.

*What it finds*
A speaker in use that no bus and no player reaches by any cable.

*Why it matters on stage*
The box stays silent, and at the walk test nobody knows whether it is broken or was never fed.

*Put it right*
Follow `rigbook trace PLAN SPEAKER` from the box backwards; patch the first thing that is missing, or mark the box
`spare: yes`.

*Fails*
    plan: 1
    show: Fails
    units: {desk: desk-16, left: powered-top-12, wedge: powered-wedge-12}
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main}}
    buses: {main: {}}
    outputs: {main: desk/out 1}
    wiring: {xlr: [desk/out 1 -> left/in]}

*Passes*
    plan: 1
    show: Passes
    units: {desk: desk-16, left: powered-top-12, wedge: {kind: powered-wedge-12, spare: yes}}
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main}}
    buses: {main: {}}
    outputs: {main: desk/out 1}
    wiring: {xlr: [desk/out 1 -> left/in]}

*Source*
Common practice.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from rigbook.checks.routing._say import names, silence
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.graph.gaps import names_of
from rigbook.graph.rig import Rig
from rigbook.text.phrase import phrase

SEVERITY = Severity.ERROR
YIELDS_TO = ("bridge-misuse", "link-missing", "signal-loop", "unfed-output", "orphan-output",
             "speaker-level-into-line")  # fmt: skip
ABSENCE = True
POWERED: Final = phrase("cable an output to `%(head)s`, or write `spare: yes`")
PASSIVE: Final = phrase("cable an amplifier, or the link of another box, to `%(head)s`, or write `spare: yes`")


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each speaker input that nothing is plugged into and that no loose end fits."""
    for gap in rig.gaps:
        want = gap.wants[0] if gap.start is None else None
        if want is None or want.cable is not None:
            continue
        own = rig.plan.units[want.ends[0]]
        fix = POWERED if own.family == "powered speaker" else PASSIVE
        yield Finding(
            "silent-speaker",
            SEVERITY,
            phrase("nothing is plugged into the speaker %(names)s", names=names(want.ends)),
            Label(own.span, phrase("no signal comes here")),
            effect=silence(rig, (want,), ""),
            remedy=phrase(fix, head=want.head),
            objects=names_of((want,)),
        )
