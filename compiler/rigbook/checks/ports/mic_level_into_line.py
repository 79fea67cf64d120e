"""A microphone where a line is expected.

*What it finds*
A microphone, a DI, an instrument or a receiver at microphone level that comes, by cable or plug, splitters and tie
lines included, to an input for line level only.

*Why it matters on stage*
The signal is thirty to fifty decibels too quiet: it drowns in noise or is not heard at all.

*Put it right*
Go through a microphone input of the desk or stage box, or set the unit to line level and describe it so.

*Fails*
    plan: 1
    show: Fails
    units: {desk: desk-16, rx: radio-receiver, recorder: recorder-2}
    wiring: {xlr: [rx/out -> recorder/in 1]}

*Passes*
    plan: 1
    show: Passes
    units: {player: player-2, recorder: recorder-2}
    wiring: {xlr: [player/out 1-2 -> recorder/in 1-2]}

*Source*
Common practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from rigbook.checks.ports._ends import QUIET
from rigbook.checks.ports._levels import levels
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.graph import kinds as k
from rigbook.graph.rig import Rig
from rigbook.graph.words import level_words
from rigbook.text.phrase import phrase

SEVERITY = Severity.WARNING
YIELDS_TO = ("connector-mismatch", "wrong-direction")


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each cable or plug."""
    at = levels(rig)
    for (a, b, _), data in rig.net.edges():
        port = rig.net.nodes[b].get("port") if data["kind"] in (k.CABLE, k.PLUG) else None
        if port is None or port.level != "line" or port.direction == "out":
            continue
        quiet = sorted(at.get(a, frozenset()).intersection(QUIET))
        if not quiet:
            continue
        channel, cable = data.get("channel"), data.get("cable")
        what = channel.name if channel else a
        name = cable.name if cable else what
        yield Finding(
            "mic-level-into-line",
            SEVERITY,
            phrase(
                "`%(what)s` comes at %(level)s into the line input `%(socket)s`",
                what=what,
                level=phrase("microphone level") if quiet[0] == "mic" else level_words(quiet[0]),
                socket=b,
            ),
            Label(cable.end_span if cable else data["span"], phrase("made for line level")),
            effect=phrase("it is far too quiet there"),
            remedy=phrase("go through a microphone input instead of `%(socket)s`", socket=b),
            objects=frozenset({name, b} if channel else {name}),
        )
