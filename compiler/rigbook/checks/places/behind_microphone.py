"""A microphone in front of a speaker that plays it.

*What it finds*
A placed microphone that stands farther out than a main, fill or delay box that plays it, on the side to which that box
radiates.

*Why it matters on stage*
The speaker plays straight into the microphone: it howls before anything is loud.

*Put it right*
Move the box forward of the microphones, or the microphone back behind the line of the boxes.

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
      1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, at: 4 m out 1.6 m up, to: main}
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
Common practice: speakers in front of every open microphone.
"""

from __future__ import annotations

from collections.abc import Iterator

from rigbook.checks.places._say import Pair, grouped, listed
from rigbook.compute.results import results
from rigbook.compute.room import angle_to, microphones, reached
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.graph.rig import Rig
from rigbook.text.phrase import counted, phrase

SEVERITY = Severity.WARNING


BESIDE_DEG = 90.0
"""A box radiates forwards (common practice)."""


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each box, or for each microphone, whichever is out of place."""
    got = results(rig)
    pairs: list[Pair] = []
    mains = [(b, spot) for b in got.boxes.audience if (spot := got.places.unit(b.name))]
    for channel, spot in microphones(rig, got.places):
        heard = reached(rig, channel)
        for box, there in mains:
            angle = angle_to(box, got.places, spot)
            if box.name in heard and spot.y > there.y and angle is not None and angle < BESIDE_DEG:
                pairs.append((channel, spot, box.name))
    for group in grouped(pairs):
        yield _finding(rig, group)


def _finding(rig: Rig, group: list[Pair]) -> Finding:
    names = [c.name for c, _, _ in group]
    boxes = [b for _, _, b in group]
    one_box = len(set(boxes)) == 1 and len(set(names)) > 1
    here = rig.plan.units[boxes[0]].record.at("at") if one_box else group[0][0].record.at("at")
    others = [c.record.at("at") for c, _, _ in group] if one_box else [rig.plan.units[b].record.at("at") for b in boxes]
    return Finding(
        "behind-microphone",
        SEVERITY,
        counted(
            len(set(names)),
            "%(names)s stands in front of %(boxes)s",
            "%(names)s stand in front of %(boxes)s",
            names=listed(names),
            boxes=listed(boxes),
        ),
        Label(
            here, phrase("stands behind the microphones") if one_box else phrase("in front of a speaker that plays it")
        ),
        tuple(Label(span, phrase("microphone") if one_box else phrase("speaker")) for span in dict.fromkeys(others)),
        effect=counted(
            len(set(boxes)),
            "%(names)s plays into the microphone, and it howls early",
            "%(names)s play into the microphone, and it howls early",
            names=listed(boxes),
        ),
        remedy=phrase("move %(names)s forward, or the microphone back", names=listed(boxes)),
        objects=frozenset({*boxes, *(f"channel {c.number}" for c, _, _ in group)}),
    )
