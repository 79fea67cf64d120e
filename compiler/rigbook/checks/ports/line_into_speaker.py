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
from rigbook.graph.words import level_words
from rigbook.text.phrase import phrase

SEVERITY = Severity.ERROR


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each line of wiring."""
    for (cable, start, _), count in faulty(rig, lambda _, a, b: a.level in SIGNAL and b.level in SPEAKER):
        yield Finding(
            "line-into-speaker",
            SEVERITY,
            phrase(
                "the passive speaker `%(unit)s` is fed by `%(start)s` without an amplifier%(more)s",
                unit=cable.end.unit,
                start=cable.start.id,
                more=more(count),
            ),
            Label(cable.start_span, phrase("%(level)s leaves here", level=level_words(start.level))),
            (Label(cable.end_span, phrase("this needs an amplifier")),),
            effect=phrase("`%(unit)s` stays all but silent", unit=cable.end.unit),
            remedy=phrase(
                "cable `%(start)s` to an amplifier, and the amplifier to `%(unit)s`",
                start=cable.start.id,
                unit=cable.end.unit,
            ),
            objects=frozenset({cable.name, cable.end.unit}),
        )
