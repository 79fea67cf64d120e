"""An effect that is sent to before the fader.

*What it finds*
A send to an effects bus that is pre-fader.

*Why it matters on stage*
When the channel is pulled down its echo stays: the singer is gone and the room goes on singing.

*Put it right*
Leave out `pre` and `sends: pre`: sends to effects are post-fader then.

*Fails*
    plan: 1
    show: Fails
    units: {desk: desk-16, top: powered-top-12}
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: [main, reverb -10 dB pre]}}
    buses: {main: {}, reverb: {role: effects, to: main}}
    outputs: {main: desk/out 1}
    wiring: {xlr: [desk/out 1 -> top/in]}

*Passes*
    plan: 1
    show: Passes
    units: {desk: desk-16, top: powered-top-12}
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: [main, reverb -10 dB]}}
    buses: {main: {}, reverb: {role: effects, to: main}}
    outputs: {main: desk/out 1}
    wiring: {xlr: [desk/out 1 -> top/in]}

*Source*
Common practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from rigbook.findings.finding import Finding, Label, Severity
from rigbook.graph.rig import Rig
from rigbook.plan.model import Bus, Channel
from rigbook.text.phrase import phrase

SEVERITY = Severity.WARNING


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each bus that says so for all its sends, and for each send."""
    for bus in rig.plan.buses.values():
        if bus.role == "effects" and bus.pick == "pre":
            yield _bus(bus)
    for channel in rig.plan.channels:
        for send in channel.sends:
            target = rig.plan.buses.get((channel.desk, send.bus))
            if target and target.role == "effects" and send.pick == "pre" and target.pick != "pre":
                yield _send(channel, target, Label(send.span, phrase("pre-fader")))


def _bus(bus: Bus) -> Finding:
    return Finding(
        "effects-before-fader",
        SEVERITY,
        phrase("the sends to the effect `%(bus)s` are pre-fader", bus=bus.name),
        Label(bus.record.at("sends"), phrase("all of them, unless a send says otherwise")),
        effect=phrase("the effect stays when a channel is pulled down"),
        remedy=phrase("take `sends: pre` out of `%(bus)s`", bus=bus.name),
        objects=frozenset({bus.name}),
    )


def _send(channel: Channel, bus: Bus, where: Label) -> Finding:
    return Finding(
        "effects-before-fader",
        SEVERITY,
        phrase("the send of `%(channel)s` to the effect `%(bus)s` is pre-fader", channel=channel.name, bus=bus.name),
        where,
        effect=phrase("`%(bus)s` stays when `%(channel)s` is pulled down", bus=bus.name, channel=channel.name),
        remedy=phrase("take `pre` out of the send"),
        objects=frozenset({bus.name, f"channel {channel.number}"}),
    )
