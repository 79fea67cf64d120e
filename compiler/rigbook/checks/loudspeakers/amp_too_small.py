"""An amplifier too small for its speaker.

*What it finds*
A speaker that gets less than half of its continuous power from its amplifier at full power (the limit
`amplifier-least`).

*Why it matters on stage*
The amplifier clips long before the box is loud, and a clipping amplifier burns treble drivers.

*Put it right*
Use a larger amplifier, fewer speakers on the channel, or a smaller box.

*Fails*
    plan: 1
    show: Fails
    units: {desk: desk-16, amp: amplifier-2x300, left: sub-2x18, right: sub-2x18}
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main}}
    buses: {main: {stereo: yes, high-cut: 100 Hz lr 24 dB/oct}}
    outputs: {main left: desk/out 1, main right: desk/out 2}
    wiring:
      xlr: [desk/out 1-2 -> amp/in A-B]
      speaker-2.5-mm2: [amp/out A -> left, amp/out B -> right]

*Passes*
    plan: 1
    show: Passes
    units: {desk: desk-16, amp: amplifier-2x900, left: sub-2x18, right: sub-2x18}
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main}}
    buses: {main: {stereo: yes, high-cut: 100 Hz lr 24 dB/oct, limiter: +7 dBu}}
    outputs: {main left: desk/out 1, main right: desk/out 2}
    wiring:
      xlr: [desk/out 1-2 -> amp/in A-B]
      speaker-2.5-mm2: [amp/out A -> left, amp/out B -> right]

*Source*
Common practice: amplifier power between half and twice the continuous power of the box.
"""

from __future__ import annotations

from collections.abc import Iterator

from rigbook.compute.figure import value_of
from rigbook.compute.loads import AmpChannel, Driven
from rigbook.compute.results import results
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.graph.rig import Rig
from rigbook.text.phrase import phrase

SEVERITY = Severity.WARNING
YIELDS_TO = ("amp-underload", "bridge-misuse", "mixed-load")
SETTINGS = ("amplifier-least",)


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each amplifier, at the channel that falls shortest."""
    got = results(rig)
    least = got.limits["amplifier-least"]
    worst: dict[str, tuple[float, AmpChannel, Driven, float]] = {}
    for channel in got.amp_channels:
        for driven in channel.boxes:
            power, wanted = value_of(driven.power), driven.continuous_w
            if power is not None and wanted and power < least * wanted:
                share = power / wanted
                if channel.amplifier not in worst or share < worst[channel.amplifier][0]:
                    worst[channel.amplifier] = (share, channel, driven, power)
    for _, channel, driven, power in worst.values():
        yield _finding(rig, channel, driven, power)


def _finding(rig: Rig, channel: AmpChannel, driven: Driven, power: float) -> Finding:
    wanted = driven.continuous_w or 0.0
    return Finding(
        "amp-too-small",
        SEVERITY,
        phrase(
            "`%(box)s` gets %(power)s W from `%(socket)s`, it takes %(wanted)s W",
            box=driven.box,
            power=f"{power:.0f}",
            socket=channel.socket,
            wanted=f"{wanted:.0f}",
        ),
        Label(
            rig.plan.units[channel.amplifier].span,
            phrase("gives %(power)s W to `%(box)s`", power=f"{power:.0f}", box=driven.box),
        ),
        (Label(rig.plan.units[driven.box].span, phrase("takes %(wanted)s W continuously", wanted=f"{wanted:.0f}")),),
        effect=phrase("`%(amplifier)s` clips before `%(box)s` is loud", amplifier=channel.amplifier, box=driven.box),
        remedy=phrase(
            "use an amplifier that gives `%(box)s` at least %(wanted)s W", box=driven.box, wanted=f"{wanted:.0f}"
        ),
        objects=frozenset({channel.amplifier, *(f"{channel.amplifier}/{channel.output}",)}),
    )
