"""An amplifier output on an input that is made for less.

*What it finds*
A cable from an amplifier's loudspeaker output, or a link behind it, to an input for line, microphone or instrument
level: a powered speaker, another amplifier, a desk.

*Why it matters on stage*
Tens of volts come where one or two are expected. The input is destroyed, and perhaps the amplifier with it.

*Put it right*
Feed a powered speaker from the desk, the stage box or a link at line level; cable amplifier outputs to passive
speakers only.

*Fails*
    plan: 1
    show: Fails
    kinds:
      our-lead: {is: cable, title: speaker lead, carries: speaker, ends: [speaker-4-pole, jack-unbalanced]}
    units: {desk: desk-16, amp: amplifier-2x500, top: {kind: powered-top-12, side: left}}
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main}}
    buses: {main: {limiter: +3 dBu}}
    outputs: {main: desk/out 1}
    wiring: {xlr: [desk/out 1 -> amp/in A], our-lead: [amp/out A -> top/in]}

*Passes*
    plan: 1
    show: Passes
    units: {desk: desk-16, top: {kind: powered-top-12, side: left}}
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main}}
    buses: {main: {}}
    outputs: {main: desk/out 1}
    wiring: {xlr: [desk/out 1 -> top/in]}

*Source*
Common practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from rigbook.checks.ports._ends import SPEAKER, around, faulty, more
from rigbook.checks.routing._say import waiting
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.graph.gaps import Gap, names_of
from rigbook.graph.loose_ends import is_loud
from rigbook.graph.rig import Rig
from rigbook.graph.words import level_words
from rigbook.text.phrase import phrase

SEVERITY = Severity.ERROR


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each line of wiring."""
    for (cable, _, end), count in faulty(rig, lambda _, a, b: a.level in SPEAKER and b.level not in SPEAKER):
        gap = next((g for g in rig.gaps if _waits(rig, g)), None)
        wants = gap.wants[:1] if gap else ()
        yield Finding(
            "speaker-level-into-line",
            SEVERITY,
            phrase(
                "the amplifier output `%(start)s` goes into `%(end)s`%(more)s",
                start=cable.start.id,
                end=cable.end.id,
                more=more(count),
            ),
            Label(cable.end_span, phrase("made for %(level)s", level=level_words(end.level))),
            (Label(cable.start_span, phrase("speaker level leaves here")), *waiting(wants)),
            effect=phrase("`%(unit)s` is destroyed when the amplifier gives power", unit=cable.end.unit),
            remedy=phrase("write `%(line)s`", line=wants[0].head)
            if wants
            else phrase(
                "feed `%(end)s` at line level, or cable `%(start)s` to a passive speaker",
                end=cable.end.id,
                start=cable.start.id,
            ),
            objects=frozenset({cable.name, *(around(rig, (cable.start.id, cable.end.id)) if wants else ())})
            | names_of(wants),
        )


def _waits(rig: Rig, gap: Gap) -> bool:
    """A speaker that nothing comes to, and that takes speaker level."""
    want = gap.wants[0] if gap.wants else None
    return gap.start is None and want is not None and want.cable is None and is_loud(rig, want.head)
