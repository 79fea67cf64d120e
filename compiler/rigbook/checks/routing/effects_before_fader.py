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
                yield _send(channel, target, Label(send.span, "pre-fader"))


def _bus(bus: Bus) -> Finding:
    return Finding(
        "effects-before-fader",
        SEVERITY,
        f"the sends to the effect `{bus.name}` are pre-fader",
        Label(bus.record.at("sends"), "all of them, unless a send says otherwise"),
        effect="the effect stays when a channel is pulled down",
        remedy=f"take `sends: pre` out of `{bus.name}`",
        objects=frozenset({bus.name}),
    )


def _send(channel: Channel, bus: Bus, where: Label) -> Finding:
    return Finding(
        "effects-before-fader",
        SEVERITY,
        f"the send of `{channel.name}` to the effect `{bus.name}` is pre-fader",
        where,
        effect=f"`{bus.name}` stays when `{channel.name}` is pulled down",
        remedy="take `pre` out of the send",
        objects=frozenset({bus.name, f"channel {channel.number}"}),
    )
