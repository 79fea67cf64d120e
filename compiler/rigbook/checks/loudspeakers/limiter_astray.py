"""A limiter that is set for another box.

*What it finds*
A limiter that lets through at least 3 dB more than the speakers behind it take for long, where the amplifier can give
that; and one that acts more than 20 dB below that.

*Why it matters on stage*
Set too high it looks like protection and is none. Set too low the box is quiet and dull, and everyone looks for the
fault elsewhere.

*Put it right*
Write the level that the message names, or what the maker of the box says.

*Fails*
    plan: 1
    show: Fails
    units: {desk: desk-16, amp: amplifier-4x400, left: fill-8, right: fill-8}
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main}}
    buses: {main: {stereo: yes, limiter: +12 dBu}}
    outputs: {main left: desk/out 1, main right: desk/out 2}
    wiring:
      xlr: [desk/out 1-2 -> amp/in A-B]
      speaker-2.5-mm2: [amp/out A -> left, amp/out B -> right]

*Passes*
    plan: 1
    show: Passes
    units: {desk: desk-16, amp: amplifier-4x400, left: fill-8, right: fill-8}
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main}}
    buses: {main: {stereo: yes, limiter: +2 dBu}}
    outputs: {main left: desk/out 1, main right: desk/out 2}
    wiring:
      xlr: [desk/out 1-2 -> amp/in A-B]
      speaker-2.5-mm2: [amp/out A -> left, amp/out B -> right]

*Source*
Common practice.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from rigbook.checks.loudspeakers._where import bus_of, listed, written
from rigbook.checks.loudspeakers.amp_too_large import TOLERANCE
from rigbook.compute.figure import value_of
from rigbook.compute.loads import AmpChannel
from rigbook.compute.results import results
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.graph.rig import Rig
from rigbook.text.phrase import phrase
from rigbook.units.quantity import Amount

SEVERITY = Severity.WARNING
YIELDS_TO = ("limiter-missing", "amp-too-large", "bridge-misuse", "amp-underload", "mixed-load")
ABOVE_DB, BELOW_DB = 3.0, 20.0
"""Twice the power is no rounding; a hundredth of it is no caution (ours)."""
Place = tuple[str, str]
"""Bus leg, and the point on its way where the lowest limiter is set."""


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each place where a limiter is written."""
    got = results(rig)
    found: dict[object, tuple[Place, float, AmpChannel, float, list[str]]] = {}
    plugs = Counter(c.end.unit for c in {c.end: c for c in reversed(rig.plan.cables)}.values())
    lines = Counter(c.end.unit for c in rig.plan.cables)
    for channel in got.amp_channels:
        wanted = value_of(channel.limiter_input)
        for driven in channel.boxes if wanted is not None else ():
            if lines[driven.box] > plugs[driven.box]:
                continue  # two outputs are tied together there, and `two-into-one` speaks of them
            power, rated = value_of(driven.power), driven.continuous_w
            if power is not None and driven.peak_w and 2 * power > TOLERANCE * driven.peak_w:
                continue  # `amp-too-large` speaks of it
            for leg, arrival in got.boxes.ways.get(driven.box, ()):
                set_ = [(p.limiter.value, at) for at, p in arrival.stages if p.limiter]
                if not set_ or wanted is None:
                    continue
                level, at = min(set_)
                # below what its boxes take, an amplifier needs none
                high = level > wanted + ABOVE_DB and power is not None and rated and power > rated + 1
                # an amplifier that is turned down by hand wants a higher one: `level-structure` speaks of it
                turned = rig.plan.units[channel.amplifier].record.get("attenuation") is not None
                if high or (level < wanted - BELOW_DB and not turned):
                    span = written(rig, leg, at, "limiter")
                    found.setdefault(span, ((leg, at), level, channel, wanted, []))[-1].append(driven.box)
    for (leg, at), level, channel, wanted, boxes in found.values():
        names = listed(list(dict.fromkeys(boxes)))
        line = f"limiter: {wanted:+.1f} dBu"
        yield Finding(
            "limiter-astray",
            SEVERITY,
            phrase("the limiter lets %(db)s more through than %(names)s take", db=_db(level - wanted), names=names)
            if level > wanted
            else phrase("the limiter acts %(db)s below what %(names)s take", db=_db(wanted - level), names=names),
            Label(written(rig, leg, at, "limiter"), phrase("set here")),
            (Label(rig.plan.units[channel.amplifier].span, phrase("the amplifier behind it")),),
            effect=phrase("long loud passages overheat the voice coil, though a limiter is set")
            if level > wanted
            else phrase("%(names)s play quiet and dull, and nobody sees why", names=names),
            remedy=phrase(
                "write `%(line)s` at `%(name)s`, or what the maker of the box says",
                line=line,
                name=bus_of(rig, leg).name,
            ),
            objects=frozenset({channel.amplifier, *boxes}),
        )


def _db(amount: float) -> Amount:
    return Amount(f"{amount:.0f}", "dB")
