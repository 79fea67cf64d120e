"""A unit above people without a second suspension.

*What it finds*
A unit that is hung, on a truss or on a wall (`mount: hung`, `truss` or `wall`) without a word under `safety` on its
second suspension. On a wall only where it is not written to be lower than 2 m above what people stand on.

*Why it matters on stage*
If the first one fails, it falls on people.

*Put it right*
Write what holds it a second time, from a point of its own. Hanging is for competent people, the makers and local
codes.

*Fails*
    plan: 1
    show: Fails
    units:
      desk: desk-16
      amp: amplifier-2x500
      left: {kind: top-12, mount: hung}
      right: {kind: top-12, mount: hung, safety: "rated steel, own point"}
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main}}
    buses: {main: {stereo: yes, limiter: +3 dBu}}
    outputs: {main left: desk/out 1, main right: desk/out 2}
    wiring:
      xlr: [desk/out 1-2 -> amp/in A-B]
      speaker-2.5-mm2: [amp/out A -> left, amp/out B -> right]

*Passes*
    plan: 1
    show: Passes
    units:
      desk: desk-16
      amp: amplifier-2x500
      left, right: {kind: top-12, mount: hung, safety: "rated steel, own point"}
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main}}
    buses: {main: {stereo: yes, limiter: +3 dBu}}
    outputs: {main left: desk/out 1, main right: desk/out 2}
    wiring:
      xlr: [desk/out 1-2 -> amp/in A-B]
      speaker-2.5-mm2: [amp/out A -> left, amp/out B -> right]

*Source*
Common practice; local codes decide.
"""

from __future__ import annotations

from collections.abc import Iterator
from types import MappingProxyType

from rigbook.compute.results import results
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.graph.rig import Rig
from rigbook.language.values.sizes import Size
from rigbook.plan.model import Unit
from rigbook.text.phrase import phrase

SEVERITY = Severity.ERROR


HELD = MappingProxyType(
    {
        "hung": phrase("`%(unit)s` is hung and the plan names no second suspension"),
        "truss": phrase("`%(unit)s` is on a truss and the plan names no second suspension"),
        "wall": phrase("`%(unit)s` is on a wall and the plan names no second suspension"),
    }
)
HEAD_M = 2.0
"""Lower on a wall nothing is above heads (ours)."""


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each unit."""
    for unit in results(rig).plan.units.values():
        mount = unit.record.get("mount")
        held = HELD.get(str(mount), "") if not unit.spare else ""
        if not held or unit.record.get("safety") or "safety" in unit.record.broken:
            continue
        if mount != "wall" or _above_heads(rig, unit):
            yield Finding(
                "hang-without-safety",
                SEVERITY,
                phrase(held, unit=unit.name),
                Label(unit.record.at("mount"), phrase("what holds it if this fails?")),
                effect=phrase("if one part fails, `%(unit)s` falls", unit=unit.name),
                remedy=phrase("write `safety:` and what holds it a second time, such as `rated steel, own point`"),
                objects=frozenset({unit.name}),
            )


def _above_heads(rig: Rig, unit: Unit) -> bool:
    """False for what is written to be low; a place without a height (0 m) may be high."""
    places = results(rig).places
    spot = places.unit(unit.name)
    stage = places.room.get("stage") if places.room else None
    boards = stage.height if isinstance(stage, Size) and spot is not None and spot.y <= 0 else 0.0
    return spot is None or not spot.z or spot.z - boards >= HEAD_M
