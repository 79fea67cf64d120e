"""Two boxes of a pair that hang or point unlike each other.

*What it finds*
Two boxes of one kind that stand mirrored left and right, one of which is much higher, tilted otherwise, or turned
otherwise than its fellow.

*Why it matters on stage*
Digits are exchanged easily: 4.7 m for 7.4 m, up for down, 60 degrees for 6. One side is hung as it was typed, and the
two halves of the audience hear two systems.

*Put it right*
Write for the one what the other says, or accept the finding with the reason why the two differ.

*Fails*
    plan: 1
    show: Fails
    units:
      desk: desk-16
      left: {kind: powered-top-12, at: 4 m left 1 m out 2.6 m up, aim: 15 deg right, tilt: 10 deg down}
      right: {kind: powered-top-12, at: 4 m right 1 m out 6.2 m up, aim: 15 deg left, tilt: 10 deg down}
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main}}
    buses: {main: {stereo: yes}}
    outputs: {main left: desk/out 1, main right: desk/out 2}
    wiring: {xlr: [desk/out 1 -> left/in, desk/out 2 -> right/in]}

*Passes*
    plan: 1
    show: Passes
    units:
      desk: desk-16
      left: {kind: powered-top-12, at: 4 m left 1 m out 2.6 m up, aim: 15 deg right, tilt: 10 deg down}
      right: {kind: powered-top-12, at: 4 m right 1 m out 2.6 m up, aim: 15 deg left, tilt: 10 deg down}
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main}}
    buses: {main: {stereo: yes}}
    outputs: {main left: desk/out 1, main right: desk/out 2}
    wiring: {xlr: [desk/out 1 -> left/in, desk/out 2 -> right/in]}

*Source*
Common practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from rigbook.compute.places import Aim, Spot
from rigbook.compute.results import results
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.graph.rig import Rig
from rigbook.plan.model import Unit
from rigbook.text.phrase import phrase

SEVERITY = Severity.WARNING
TYPED = frozenset({"at", "aim", "tilt"})
"""Keys that are compared: of a box of which one could not be read, nothing is known to be unlike."""
NEAR_M, HIGHER_M, TURNED_DEG = 0.5, 1.5, 10.0
"""Mirrored is what lies within half a metre; less than the others is how a room is, not a slip (ours)."""


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each pair, about what differs most."""
    got = results(rig)
    read = [b for b in got.boxes.audience if not b.unit.record.broken & TYPED]
    boxes = [(b.unit, s, got.places.aim(b.unit)) for b in read if (s := got.places.unit(b.name))]
    for at, left in enumerate(boxes):
        fellows = [right for right in boxes[at + 1 :] if _mirrored(left, right)]
        # of four in a row each has one fellow: the one that differs least
        if fellows:
            right = min(fellows, key=lambda f: sum(_apart(left, f).values()))
            nearer = [o for o in boxes if o is not left and _mirrored(o, right)]
            apart = _apart(left, right)
            if apart and all(sum(_apart(o, right).values()) >= sum(apart.values()) for o in nearer):
                yield _finding(rig, left[0], right[0], max(apart, key=lambda k: apart[k]))


def _mirrored(a: tuple[Unit, Spot, Aim], b: tuple[Unit, Spot, Aim]) -> bool:
    """Of one kind, on the two sides of the middle, as far out and as far from it."""
    (one, here, _), (two, there, _) = a, b
    alike = one.kind is two.kind and abs(here.x) > NEAR_M and abs(here.x + there.x) < NEAR_M
    return alike and abs(here.y - there.y) < NEAR_M


def _apart(a: tuple[Unit, Spot, Aim], b: tuple[Unit, Spot, Aim]) -> dict[str, float]:
    """What differs, as so many times the least that counts."""
    (_, here, one), (_, there, two) = a, b
    found = {
        "at": abs(here.z - there.z) / HIGHER_M,
        "tilt": abs(one.tilt - two.tilt) / TURNED_DEG,
        "aim": abs((one.turn + two.turn + 180.0) % 360.0 - 180.0) / TURNED_DEG,
    }
    return {key: value for key, value in found.items() if value >= 1.0}


def _finding(rig: Rig, left: Unit, right: Unit, key: str) -> Finding:
    # what is told of the area that one of them now turns its back on comes of this
    areas = (name for unit in (left, right) if key == "aim" for name in unit.record.get("covers", ()))
    buses = (rig.net.nodes[leg]["bus"].name for u in (left, right) if key == "aim" for leg in rig.legs_of(u.name))
    one, two = _typed(left, key), _typed(right, key)
    what = {
        "at": phrase("`%(left)s` and `%(right)s` are a pair, and one is much higher", left=left.name, right=right.name),
        "tilt": phrase("`%(left)s` and `%(right)s` are a pair, and tilted unlike", left=left.name, right=right.name),
        "aim": phrase("`%(left)s` and `%(right)s` are a pair, and turned unlike", left=left.name, right=right.name),
    }[key]
    return Finding(
        "pair-uneven",
        SEVERITY,
        what,
        Label(left.record.at(key), one),
        (Label(right.record.at(key), two),),
        effect=phrase("one side is set up as it is typed, and the two halves of the audience hear unlike systems"),
        remedy=phrase("write `%(key)s:` of the one as the other says, mirrored; accept it where it is meant", key=key),
        objects=frozenset({left.name, right.name, *areas, *buses}),
    )


def _typed(unit: Unit, key: str) -> str:
    said = unit.record.get(key)
    return str(getattr(said, "text", "") or phrase("nothing is said"))
