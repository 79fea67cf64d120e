"""A main box that the front rows hide.

*What it finds*
A main or delay box whose middle stands less than 0.3 m (the limit `over-heads`) above the ears of the audience nearest
to it.

*Why it matters on stage*
The first rows soak up the sound: they get too much, the rows behind them too little.

*Put it right*
Set the box higher and tilt it down.

*Fails*
    plan: 1
    show: Fails
    room:
      mix-position: 13 m out 1.2 m up
      audience: {floor: {from: 4 m left 3 m out, to: 4 m right 14 m out}}
      noise-limit: 97 dB
    units:
      desk: desk-16
      left: {kind: powered-top-12, at: 4 m left 1 m out 1.3 m up, aim: 15 deg right}
      right: {kind: powered-top-12, at: 4 m right 1 m out 1.3 m up, aim: 15 deg left}
    inputs:
      1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, at: 1 m back 1.6 m up, to: main}
    buses: {main: {stereo: yes}}
    outputs: {main left: desk/out 1, main right: desk/out 2}
    wiring:
      xlr: [desk/out 1 -> left/in, desk/out 2 -> right/in]

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

*Source*
Common practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from rigbook.checks.places._say import listed
from rigbook.compute.areas import nearest
from rigbook.compute.boxes import Box
from rigbook.compute.results import results
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.graph.rig import Rig
from rigbook.text.phrase import counted, phrase
from rigbook.units.quantity import Amount

SEVERITY = Severity.WARNING
SETTINGS = ("over-heads",)


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each height at which such boxes stand."""
    got = results(rig)
    found: dict[float, list[tuple[Box, float, str]]] = {}
    for box in got.boxes.audience:
        spot = got.places.unit(box.name)
        if spot is None or box.build == "fill" or box.roles == {"fill"} or not got.levels.areas:
            continue
        area = nearest(got.levels.areas, spot)
        ears = area.floor(spot.x, spot.y) + area.ear_m
        if spot.z < ears + got.limits["over-heads"] - 0.001:
            found.setdefault(round(spot.z, 2), []).append((box, ears, area.name))
    for height, hit in found.items():
        names, ears = [b.name for b, _, _ in hit], hit[0][1]
        yield Finding(
            "below-head-height",
            SEVERITY,
            counted(
                len(names),
                "%(names)s stands %(height)s m up, the ears are at %(ears)s m",
                "%(names)s stand %(height)s m up, the ears are at %(ears)s m",
                names=listed(names),
                height=Amount(f"{height:.1f}"),
                ears=Amount(f"{ears:.1f}"),
            ),
            Label(hit[0][0].unit.record.at("at"), phrase("the first rows are in the way")),
            tuple(Label(b.unit.record.at("at"), phrase("this one too")) for b, _, _ in hit[1:]),
            effect=phrase("the first rows soak up the sound, and those behind them get too little"),
            remedy=phrase(
                "set %(names)s at least %(ears)s m up, and tilt down",
                names=listed(names),
                ears=Amount(f"{ears + got.limits['over-heads']:.1f}"),
            ),
            objects=frozenset({*names, *(a for _, _, a in hit)}),
        )
