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
from rigbook.compute.structure import Chain, Stage
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.graph.rig import Rig
from rigbook.plan.model import Unit
from rigbook.text.phrase import phrase

SEVERITY = Severity.WARNING
YIELDS_TO = ("bridge-misuse", "amp-underload")
SETTINGS = ("headroom", "nominal-level")

EARLY_DB = 3.0
"""How much earlier than the amplifier another stage may clip (common practice)."""
MISLEADS_DB = 6.0
"""From here on the balance of the boxes is not the one that was meant: what is loud where says nothing yet."""


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each amplifier or powered speaker, at its first output; one for a bus whose gain is the fault."""
    seen: set[str] = set()
    for chain in results(rig).chains:
        unit = rig.plan.units[chain.amplifier.partition("/")[0]]
        amp = next((s for s in chain.stages if s.name == chain.amplifier), None)
        found = _of(rig, chain, amp, unit) if amp else None
        bus = str(rig.net.nodes[chain.leg]["bus"].name)
        fault = f"bus {bus}" if found and _by_gain(chain, amp) else unit.name
        if found and not {fault, unit.name} & seen:
            seen.add(fault)
            yield found


def _of(rig: Rig, chain: Chain, amp: Stage, unit: Unit) -> Finding | None:
    got = results(rig)
    first, early = _before(chain, amp)
    room = amp.clips_at.value - got.limits["nominal-level"]
    objects = {unit.name}
    if first and early > EARLY_DB:
        names = {"first": first.name, "early": f"{early:.0f}"}
        message = phrase(
            "`%(first)s` clips %(early)s dB before `%(amplifier)s` gives full power", **names, amplifier=chain.amplifier
        )
        effect = phrase("`%(box)s` never gets its full power without distortion", box=chain.box)
        remedy = phrase("turn `%(unit)s` up by %(early)s dB, or add gain after `%(first)s`", **names, unit=unit.name)
        if _by_gain(chain, amp):
            remedy = phrase(
                "the gains set on the way to `%(box)s` make %(gain)s dB; set %(early)s dB more",
                box=chain.box,
                gain=f"{chain.gain_db:.0f}",
                early=f"{early:.0f}",
            )
        if early > MISLEADS_DB:
            objects |= {area.name for area in got.levels.areas}
    elif room < got.limits["headroom"]:
        message = phrase(
            "`%(amplifier)s` clips %(room)s dB below the level that the meters are worked at",
            amplifier=chain.amplifier,
            room=f"{-room:.0f}",
        )
        effect = phrase("the meters look comfortable while the amplifier clips")
        down = f"{-(value_of(chain.attenuation) or room):.0f}"
        remedy = phrase("turn `%(unit)s` down by about %(value)s dB", unit=unit.name, value=down)
    else:
        return None
    at = phrase("full power at %(value)s dBFS of the desk", value=f"{amp.clips_at.value:.0f}")
    label = Label(unit.record.at("attenuation"), at)
    return Finding(
        "level-structure", SEVERITY, message, label, effect=effect, remedy=remedy, objects=frozenset(objects)
    )


def _before(chain: Chain, amp: Stage) -> tuple[Stage | None, float]:
    """The first stage before the amplifier to clip, and by how many dB earlier."""
    before = [s for s in chain.stages if "/" in s.name and s.name != chain.amplifier]
    first = min(before, key=lambda s: s.clips_at.value, default=None)
    return first, amp.clips_at.value - first.clips_at.value if first else 0.0


def _by_gain(chain: Chain, amp: Stage | None) -> bool:
    """True where nothing would clip early but for the gains that are set on the way."""
    return amp is not None and chain.gain_db < 0 and 0 < _before(chain, amp)[1] - EARLY_DB <= -chain.gain_db
