"""A level aimed at above the limit of the venue.

*What it finds*
A plan whose `target-level` is above the `noise-limit` of its room.

*Why it matters on stage*
The level meter of the venue cuts the power, or the show is stopped.

*Put it right*
Lower the level aimed at. What binds is for local law and the venue to say.

*Fails*
    plan: 1
    show: Fails
    room:
      mix-position: 13 m out 1.2 m up
      audience: {floor: {from: 4 m left 3 m out, to: 4 m right 14 m out}}
      noise-limit: 97 dB
    units:
      desk: desk-16
      left: {kind: powered-top-12, at: 4 m left 1 m out 2.6 m up, aim: 15 deg right, tilt: 10 deg down}
      right: {kind: powered-top-12, at: 4 m right 1 m out 2.6 m up, aim: 15 deg left, tilt: 10 deg down}
    inputs:
      1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, at: 1 m back 1.6 m up, to: main}
    buses: {main: {stereo: yes}}
    outputs: {main left: desk/out 1, main right: desk/out 2}
    wiring:
      xlr: [desk/out 1 -> left/in, desk/out 2 -> right/in]
    target-level: 103 dB(A)

*Passes*
    plan: 1
    show: Passes
    room:
      mix-position: 13 m out 1.2 m up
      audience: {floor: {from: 4 m left 3 m out, to: 4 m right 14 m out}}
      noise-limit: 97 dB
    units:
      desk: desk-16
      left: {kind: powered-top-12, at: 4 m left 1 m out 2.6 m up, aim: 15 deg right, tilt: 10 deg down}
      right: {kind: powered-top-12, at: 4 m right 1 m out 2.6 m up, aim: 15 deg left, tilt: 10 deg down}
    inputs:
      1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, at: 1 m back 1.6 m up, to: main}
    buses: {main: {stereo: yes}}
    outputs: {main left: desk/out 1, main right: desk/out 2}
    wiring:
      xlr: [desk/out 1 -> left/in, desk/out 2 -> right/in]
    target-level: 90 dB(A)

*Source*
The limit is typed by the user; local law decides.
"""

from __future__ import annotations

from collections.abc import Iterator

from rigbook.compute.exposure import noise_limit
from rigbook.compute.results import results
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.graph.rig import Rig
from rigbook.text.phrase import phrase
from rigbook.units.quantity import Amount

SEVERITY = Severity.WARNING


def find(rig: Rig) -> Iterator[Finding]:
    """One finding at most."""
    got = results(rig)
    target, limit = rig.plan.get("target-level"), noise_limit(got.places)
    room = got.places.room
    if target is None or limit is None or room is None or target.value <= limit:
        return
    yield Finding(
        "level-over-limit",
        SEVERITY,
        phrase(
            "the show aims at %(target)s, the limit here is %(limit)s dB(A)", target=target, limit=Amount(f"{limit:g}")
        ),
        Label(rig.plan.record.at("target-level"), phrase("above the limit of the venue")),
        (Label(room.at("noise-limit"), phrase("the limit")),),
        effect=phrase("the show is stopped, or turned down by someone else"),
        remedy=phrase("aim at %(limit)s dB(A) or less", limit=Amount(f"{limit:g}")),
        objects=frozenset({"target-level", *(a.name for a in got.levels.areas)}),
    )
