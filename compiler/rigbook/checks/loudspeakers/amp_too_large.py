"""An amplifier that gives more than its speaker takes.

*What it finds*
A speaker whose amplifier can give more than its peak rating allows (peaks of a sine at full power), with no limiter on
the way that keeps it below.

*Why it matters on stage*
One loud mistake, a dropped microphone or a howl, tears a cone or burns a coil.

*Put it right*
Set a limiter on the bus, the output or the amplifier, or use a smaller amplifier. The Speakers page gives the level.

*Fails*
    plan: 1
    show: Fails
    units: {desk: desk-16, amp: amplifier-2x900, left: fill-8, right: fill-8}
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main}}
    buses: {main: {stereo: yes}}
    outputs: {main left: desk/out 1, main right: desk/out 2}
    wiring:
      xlr: [desk/out 1-2 -> amp/in A-B]
      speaker-2.5-mm2: [amp/out A -> left, amp/out B -> right]

*Passes*
    plan: 1
    show: Passes
    units: {desk: desk-16, amp: amplifier-2x900, left: fill-8, right: fill-8}
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main}}
    buses: {main: {stereo: yes, limiter: +2 dBu}}
    outputs: {main left: desk/out 1, main right: desk/out 2}
    wiring:
      xlr: [desk/out 1-2 -> amp/in A-B]
      speaker-2.5-mm2: [amp/out A -> left, amp/out B -> right]

*Source*
Common practice; the peak of a sine has twice its average power.
"""

from __future__ import annotations

from collections.abc import Iterator

from rigbook.checks.loudspeakers._where import unread
from rigbook.compute.figure import Figure, value_of
from rigbook.compute.loads import AmpChannel, Driven, limited_w
from rigbook.compute.results import results
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.graph.rig import Rig
from rigbook.text.phrase import phrase

SEVERITY = Severity.WARNING
YIELDS_TO = ("bridge-misuse", "amp-underload")
TOLERANCE = 1.05
"""Limiters are set to whole decibels (ours)."""


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each amplifier, at the box that is most in danger."""
    got = results(rig)
    worst: dict[str, tuple[float, AmpChannel, Driven]] = {}
    for channel in got.amp_channels:
        for driven in channel.boxes:
            power = value_of(driven.power)
            if power is None or not driven.peak_w or "mode" in rig.plan.units[channel.amplifier].record.broken:
                continue
            leg, arrival = next(iter(got.boxes.ways.get(driven.box, ())), ("", None))
            if leg and unread(rig, leg, "limiter"):
                continue
            limited = limited_w(channel, driven, arrival)
            given = min(power, limited) if limited is not None else power
            over = 2 * given / driven.peak_w
            if over > TOLERANCE and over > worst.get(channel.amplifier, (0.0,))[0]:
                worst[channel.amplifier] = (over, channel, driven)
    for over, channel, driven in worst.values():
        yield _finding(rig, channel, driven, over)


def _finding(rig: Rig, channel: AmpChannel, driven: Driven, over: float) -> Finding:
    peak = driven.peak_w or 0.0
    level = channel.limiter_input
    fix = (
        phrase(
            "set a limiter at %(level)s or below on the way to `%(amplifier)s`, or use a smaller amplifier",
            level=level,
            amplifier=channel.amplifier,
        )
        if isinstance(level, Figure)
        else phrase(
            "set a limiter on the way to `%(amplifier)s`, or use a smaller amplifier", amplifier=channel.amplifier
        )
    )
    return Finding(
        "amp-too-large",
        SEVERITY,
        phrase(
            "peaks of %(over)s W reach `%(box)s`, it takes %(peak)s W",
            over=f"{over * peak:.0f}",
            box=driven.box,
            peak=f"{peak:.0f}",
        ),
        Label(
            rig.plan.units[channel.amplifier].span,
            phrase("gives %(over)s W to `%(box)s`", over=f"{over * peak / 2:.0f}", box=driven.box),
        ),
        (Label(rig.plan.units[driven.box].span, phrase("takes peaks of %(peak)s W", peak=f"{peak:.0f}")),),
        effect=phrase("a loud mistake breaks `%(box)s`", box=driven.box),
        remedy=fix,
        objects=frozenset({channel.amplifier, channel.socket}),
    )
