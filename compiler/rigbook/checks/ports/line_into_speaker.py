"""A passive speaker without an amplifier.

*What it finds*
A cable from a socket at line level to the input of a passive speaker.

*Why it matters on stage*
The box stays all but silent: a line output cannot drive it.

*Put it right*
Put an amplifier between the two.

*Fails*
    plan: 1
    show: Fails
    kinds:
      our-lead: {is: cable, title: XLR to speaker lead, ends: [xlr-male, speaker-4-pole]}
    units: {desk: desk-16, top: top-12}
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main}}
    buses: {main: {}}
    outputs: {main: desk/out 1}
    wiring: {our-lead: [desk/out 1 -> top/in]}

*Passes*
    plan: 1
    show: Passes
    units: {desk: desk-16, top: powered-top-12}
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main}}
    buses: {main: {}}
    outputs: {main: desk/out 1}
    wiring: {xlr: [desk/out 1 -> top/in]}

*Source*
Common practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from rigbook.checks.ports._ends import SIGNAL, SPEAKER, faulty, more
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.graph.rig import Rig

SEVERITY = Severity.ERROR


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each line of wiring."""
    for (cable, start, _), count in faulty(rig, lambda _, a, b: a.level in SIGNAL and b.level in SPEAKER):
        yield Finding(
            "line-into-speaker",
            SEVERITY,
            f"the passive speaker `{cable.end.unit}` is fed by `{cable.start.id}` without an amplifier{more(count)}",
            Label(cable.start_span, f"{start.level} level leaves here"),
            (Label(cable.end_span, "this needs an amplifier"),),
            effect=f"`{cable.end.unit}` stays all but silent",
            remedy=f"cable `{cable.start.id}` to an amplifier, and the amplifier to `{cable.end.unit}`",
            objects=frozenset({cable.name, cable.end.unit}),
        )
