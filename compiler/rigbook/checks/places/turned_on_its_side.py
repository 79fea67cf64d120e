"""A box on its side that covers the wrong plane.

*What it finds*
A box that lies on its side (`turned: yes`) and covers much less of its audience so than it would upright.

*Why it matters on stage*
A box that is wide and low becomes narrow and high: it covers the ceiling instead of the seats at the sides.

*Put it right*
Set it upright, or turn its horn where it can be turned.

*Fails*
    plan: 1
    show: Fails
    room:
      mix-position: 7 m out 1.2 m up
      audience: {floor: {from: 8 m left 3 m out, to: 8 m right 8 m out}}
      noise-limit: 97 dB
    units:
      desk: desk-16
      left: {kind: powered-column, turned: yes, at: 4 m left 1 m out 2.6 m up, aim: 15 deg right, tilt: 10 deg down}
      right: {kind: powered-column, at: 4 m right 1 m out 2.6 m up, aim: 15 deg left, tilt: 10 deg down}
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
Common practice: the nominal coverage is stated for the box as it stands.
"""

from __future__ import annotations

from collections.abc import Iterator

from rigbook.compute.aims import covered, own_points
from rigbook.compute.results import results
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.graph.rig import Rig
from rigbook.text.phrase import phrase

SEVERITY = Severity.WARNING


WORTH = 20.0
"""Share of its places, in percentage points, that it must lose (ours)."""


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each box that lies on its side and should not."""
    got = results(rig)
    if not got.levels.known:
        return
    for source in got.levels.covering:
        if not source.box.unit.record.get("turned"):
            continue
        points = own_points(got.levels, source)
        now, upright = covered(source, points, 90.0), covered(source, points, 0.0)
        if upright.value - now.value < WORTH:
            continue
        name = source.box.name
        yield Finding(
            "turned-on-its-side",
            SEVERITY,
            phrase(
                "`%(name)s` lies on its side and covers %(now)s of its places, upright %(upright)s",
                name=name,
                now=now.text,
                upright=upright.text,
            ),
            Label(
                source.box.unit.record.at("turned"),
                phrase("its coverage of %(coverage)s stands upright", coverage=source.coverage.text),
            ),
            effect=phrase("`%(name)s` covers the ceiling in place of the seats at the sides", name=name),
            remedy=phrase("set `%(name)s` upright, or turn its horn and write its coverage so", name=name),
            objects=frozenset({name, *(a.name for a in got.levels.areas)}),
        )
