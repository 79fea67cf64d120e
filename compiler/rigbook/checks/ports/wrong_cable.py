"""A cable that is not built for what it carries.

*What it finds*
A signal cable on an amplifier output (error), or a speaker cable on a line or microphone socket (warning), though the
plugs fit.

*Why it matters on stage*
A signal cable is thin: it heats up and loses power. A speaker cable has no screen: it hums, and picks up radio.

*Put it right*
Write the line under a cable kind for that level.

*Fails*
    plan: 1
    show: Fails
    kinds:
      thin: {is: cable, title: signal cable with speaker plugs, carries: line, ends: [speaker-4-pole, speaker-4-pole]}
    units: {desk: desk-16, amp: amplifier-2x300, top: top-12}
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main}}
    buses: {main: {limiter: +3 dBu}}
    outputs: {main: desk/out 1}
    wiring: {xlr: [desk/out 1 -> amp/in A], thin: [amp/out A -> top/in]}

*Passes*
    plan: 1
    show: Passes
    units: {desk: desk-16, amp: amplifier-2x300, top: top-12}
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main}}
    buses: {main: {limiter: +3 dBu}}
    outputs: {main: desk/out 1}
    wiring: {xlr: [desk/out 1 -> amp/in A], speaker-2.5-mm2: [amp/out A -> top/in]}

*Source*
Common practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from rigbook.checks.ports._ends import SIGNAL, SPEAKER, faulty, more
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.graph.rig import Rig
from rigbook.graph.words import level_words
from rigbook.plan.model import Cable, Port
from rigbook.text.phrase import phrase

SEVERITY = Severity.ERROR
YIELDS_TO = ("connector-mismatch", "speaker-level-into-line", "line-into-speaker")


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each line of wiring."""
    for (cable, start, _), count in faulty(rig, _wrong):
        loud = start.level in SPEAKER
        yield Finding(
            "wrong-cable",
            SEVERITY if loud else Severity.WARNING,
            phrase(
                "`%(kind_name)s` is no cable for %(level)s: `%(cable)s`%(more)s",
                kind_name=cable.kind_name,
                level=level_words(start.level),
                cable=cable.name,
                more=more(count),
            ),
            Label(
                cable.span, phrase("%(level)s leaves `%(start)s`", level=level_words(start.level), start=cable.start.id)
            ),
            effect=phrase("the cable heats up and loses power")
            if loud
            else phrase("the line hums: a speaker cable has no screen"),
            remedy=phrase("write the line under a cable kind that carries speaker level")
            if loud
            else phrase("write the line under a cable kind that carries signal"),
            objects=frozenset({cable.name}),
        )


def _wrong(cable: Cable, start: Port, end: Port) -> bool:
    carries = str(cable.kind.get("carries", "")) if cable.kind else ""
    if start.level in SPEAKER and end.level in SPEAKER:
        return carries in SIGNAL
    return start.level in SIGNAL and end.level in SIGNAL and carries in SPEAKER
