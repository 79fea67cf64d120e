"""A hung unit without a second suspension.

*What it finds*
A unit that is hung or on a truss (`mount: hung`, `mount: truss`) without a word under `safety` on its second
suspension.

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

from rigbook.compute.results import results
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.graph.rig import Rig

SEVERITY = Severity.ERROR


HUNG = ("hung", "truss")


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each unit."""
    for unit in results(rig).plan.units.values():
        mount = unit.record.get("mount")
        if mount in HUNG and not unit.record.get("safety") and "safety" not in unit.record.broken and not unit.spare:
            yield Finding(
                "hang-without-safety",
                SEVERITY,
                f"`{unit.name}` is hung and the plan names no second suspension",
                Label(unit.record.at("mount"), "what holds it if this fails?"),
                effect=f"if one part fails, `{unit.name}` falls",
                remedy="write `safety:` and what holds it a second time, such as `rated steel, own point`",
                objects=frozenset({unit.name}),
            )
