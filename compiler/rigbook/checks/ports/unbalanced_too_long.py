"""An unbalanced line that is too long.

*What it finds*
A cable with an unbalanced end, or an unbalanced source plugged in without a DI, that is longer than the plan's limit
(`unbalanced-length`, 6 m where it is not set).

*Why it matters on stage*
The line hums, picks up radio and dimmers, and loses treble.

*Put it right*
Put a DI at the source and go on balanced, or bring the source nearer.

*Fails*
    plan: 1
    show: Fails
    units: {desk: desk-16, left: powered-top-12}
    inputs:
      1: {name: Playback, from: desk/line 1+2, line: laptop, source: playback, cable: 12 m, to: main}
    buses: {main: {}}
    outputs: {main: desk/out 1}
    wiring: {xlr: [desk/out 1 -> left/in]}

*Passes*
    plan: 1
    show: Passes
    units: {desk: desk-16, left: powered-top-12}
    inputs:
      1:
        name: Playback
        from: desk/line 1+2
        line: laptop
        di: di-stereo-passive
        source: playback
        cable: 12 m
        to: main
    buses: {main: {}}
    outputs: {main: desk/out 1}
    wiring: {xlr: [desk/out 1 -> left/in]}

*Source*
Common practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from rigbook.checks.ports._ends import SIGNAL, faulty, more
from rigbook.compute.results import results
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.graph.rig import Rig
from rigbook.language.record import Record
from rigbook.plan.model import Cable, Port
from rigbook.text.phrase import phrase
from rigbook.units.quantity import Amount, Quantity

SEVERITY = Severity.WARNING
YIELDS_TO = ("connector-mismatch",)
ENDS = ("jack-unbalanced", "mini-jack", "phono")


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each line of wiring, and for each source."""
    limits = results(rig).limits
    most = limits["unbalanced-length"]

    def is_wrong(cable: Cable, start: Port, end: Port) -> bool:
        return cable.length is not None and cable.length.value > most * 1.0001 and _unbalanced(cable, start, end)

    for (cable, _, _), count in faulty(rig, is_wrong):
        yield Finding(
            "unbalanced-too-long",
            SEVERITY,
            phrase(
                "the unbalanced cable `%(cable)s` is %(length)s long%(more)s",
                cable=cable.name,
                length=cable.length,
                more=more(count),
            ),
            Label(cable.span, phrase("over %(said)s", said=limits.said("unbalanced-length"))),
            _limit(rig),
            effect=phrase("it hums and loses treble"),
            remedy=phrase(
                "put a DI at `%(unit)s`, or keep the cable under %(most)s m",
                unit=cable.start.unit,
                most=Amount(f"{most:g}"),
            ),
            objects=frozenset({cable.name}),
        )
    for channel in rig.plan.channels:
        kind, length = channel.source_kind, channel.record.get("cable")
        plug = kind.get("connector") if kind and channel.source_key == "line" else None
        if plug in ENDS and isinstance(length, Quantity) and length.value > most * 1.0001:
            yield Finding(
                "unbalanced-too-long",
                SEVERITY,
                phrase(
                    "the unbalanced cable of channel %(number)s `%(channel)s` is %(length)s long",
                    number=channel.number,
                    channel=channel.name,
                    length=length,
                ),
                Label(channel.record.at("cable"), phrase("over %(said)s", said=limits.said("unbalanced-length"))),
                _limit(rig),
                effect=phrase("it hums and loses treble"),
                remedy=phrase("add a DI at the source: `di: di-passive`"),
                objects=frozenset({channel.name}),
            )


def _unbalanced(cable: Cable, start: Port, end: Port) -> bool:
    if start.level not in SIGNAL or end.level not in SIGNAL:
        return False
    ends = cable.kind.get("ends", ()) if cable.kind else ()
    return not start.balanced or not end.balanced or any(e in ENDS for e in ends)


def _limit(rig: Rig) -> tuple[Label, ...]:
    limits = rig.plan.sections.get("limits")
    if isinstance(limits, Record) and "unbalanced-length" in limits.spans:
        return (Label(limits.at("unbalanced-length"), phrase("the limit set here")),)
    return ()
