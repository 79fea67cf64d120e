"""A level in the audience above the published value.

*What it finds*
In a plan with a `target-level`: a level, anywhere in an audience area, above 100 dB(A) over 15 minutes (the limit
`exposure`).

*Why it matters on stage*
Hearing is damaged for good, and nobody notices that night.

*Put it right*
Aim at a lower level, raise the boxes, keep people away from the first metres, offer ear plugs. What binds is for local
law to say.

*Fails*
    plan: 1
    show: Fails
    room:
      mix-position: 13 m out 1.2 m up
      audience: {floor: {from: 4 m left 3 m out, to: 4 m right 14 m out}}
      noise-limit: 104 dB
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
    target-level: 96 dB(A)

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
World Health Organization 2022, global standard for venues and events, feature 1.
"""

from __future__ import annotations

from collections.abc import Iterator

from rigbook.compute.results import results
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.graph.rig import Rig
from rigbook.text.phrase import phrase
from rigbook.units.quantity import Amount

SEVERITY = Severity.WARNING
YIELDS_TO = ("level-over-limit", "front-row-level", "coverage-uneven", "below-head-height")
SETTINGS = ("exposure",)


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each area."""
    got = results(rig)
    if not got.levels.known or rig.plan.get("target-level") is None:
        return
    most = got.limits["exposure"]
    said = got.limits.said("exposure") if got.limits.typed("exposure") else Amount(f"{most:g}", "dB(A)")
    for area in got.levels.by_area:
        loudest = area.bands[0].highest
        if loudest.value <= most:
            continue
        yield Finding(
            "exposure-over-limit",
            SEVERITY,
            phrase(
                "%(loudest)s in the loudest place of `%(area)s`, at the level aimed at",
                loudest=loudest,
                area=area.area.name,
            ),
            Label(
                area.area.record.span,
                phrase("more than %(limit)s", limit=said),
            ),
            effect=phrase("people there may lose hearing for good"),
            remedy=phrase("aim at a lower level, raise the boxes, or keep people away from them"),
            objects=frozenset({area.area.name}),
        )
