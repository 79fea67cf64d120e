"""A stage that clips before the amplifier, or no headroom.

*What it finds*
A way to a speaker on which the desk or a processor clips well before the amplifier gives full power, or on which the
amplifier clips below the level that the meters are worked at.

*Why it matters on stage*
Either the system never gets loud without distortion, or the meters look comfortable while the amplifiers clip.

*Put it right*
Turn the attenuator of the amplifier, or the gain on the way, so that desk and amplifier reach their limit together.

*Fails*
    plan: 1
    show: Fails
    units: {desk: desk-16, amp: {kind: amplifier-2x500, attenuation: -24 dB}, left: top-12, right: top-12}
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main}}
    buses: {main: {stereo: yes, limiter: +3 dBu}}
    outputs: {main left: desk/out 1, main right: desk/out 2}
    wiring:
      xlr: [desk/out 1-2 -> amp/in A-B]
      speaker-2.5-mm2: [amp/out A -> left, amp/out B -> right]

*Passes*
    plan: 1
    show: Passes
    units: {desk: desk-16, amp: {kind: amplifier-2x500, attenuation: -12 dB}, left: top-12, right: top-12}
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main}}
    buses: {main: {stereo: yes, limiter: +3 dBu}}
    outputs: {main left: desk/out 1, main right: desk/out 2}
    wiring:
      xlr: [desk/out 1-2 -> amp/in A-B]
      speaker-2.5-mm2: [amp/out A -> left, amp/out B -> right]

*Source*
EBU R68-2000 for the level of the meters; common practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from rigbook.compute.figure import value_of
from rigbook.compute.results import results
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.graph.rig import Rig
from rigbook.text.phrase import phrase

SEVERITY = Severity.WARNING
YIELDS_TO = ("bridge-misuse", "amp-underload")
SETTINGS = ("headroom", "nominal-level")


EARLY_DB = 3.0
"""How much earlier than the amplifier another stage may clip (common practice)."""


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each amplifier or powered speaker, at its first output."""
    got = results(rig)
    seen: set[str] = set()
    for chain in got.chains:
        amp = next((s for s in chain.stages if s.name == chain.amplifier), None)
        unit = rig.plan.units[chain.amplifier.partition("/")[0]]
        if amp is None or unit.name in seen:
            continue
        before = [s for s in chain.stages if "/" in s.name and s.name != chain.amplifier]
        first = min(before, key=lambda s: s.clips_at.value, default=None)
        room = amp.clips_at.value - got.limits["nominal-level"]
        early = amp.clips_at.value - first.clips_at.value if first else 0.0
        if first and early > EARLY_DB:
            message = phrase(
                "`%(first)s` clips %(early)s dB before `%(amplifier)s` gives full power",
                first=first.name,
                early=f"{early:.0f}",
                amplifier=chain.amplifier,
            )
            effect = phrase("`%(box)s` never gets its full power without distortion", box=chain.box)
            remedy = phrase(
                "turn `%(unit)s` up by %(early)s dB, or add gain after `%(first)s`",
                unit=unit.name,
                early=f"{early:.0f}",
                first=first.name,
            )
        elif room < got.limits["headroom"]:
            message = phrase(
                "`%(amplifier)s` clips %(room)s dB below the level that the meters are worked at",
                amplifier=chain.amplifier,
                room=f"{-room:.0f}",
            )
            effect = phrase("the meters look comfortable while the amplifier clips")
            remedy = phrase(
                "turn `%(unit)s` down by about %(value)s dB",
                unit=unit.name,
                value=f"{-(value_of(chain.attenuation) or room):.0f}",
            )
        else:
            continue
        seen.add(unit.name)
        yield Finding(
            "level-structure",
            SEVERITY,
            message,
            Label(
                unit.record.at("attenuation"),
                phrase("full power at %(value)s dBFS of the desk", value=f"{amp.clips_at.value:.0f}"),
            ),
            effect=effect,
            remedy=remedy,
            objects=frozenset({unit.name}),
        )
