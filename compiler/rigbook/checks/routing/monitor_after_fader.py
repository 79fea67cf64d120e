"""A monitor mix taken after the faders, or a main output taken before its own.

*What it finds*
A send to a monitor mix that is post-fader; a bus that ends in nothing but stage monitors and does not say whose mix it
is, so that its sends are post-fader; an output of the main, sub, fill or delay bus that is taken before the fader
of that bus.

*Why it matters on stage*
Every move of a main fader changes what the player hears, and turning a channel up for the audience makes the monitor
howl. An output before its fader does not go down when somebody pulls the main fader down.

*Put it right*
Leave out `post` and `sends: post`: monitors are pre-fader then. Leave out `pick-off: pre`: outputs are post-fader then.

*Fails*
    plan: 1
    show: Fails
    units: {desk: desk-16, wedge: powered-wedge-12}
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: mix-1}}
    buses: {mix-1: {monitor-for: Voice, sends: post}}
    outputs: {mix-1: desk/out 1}
    wiring: {xlr: [desk/out 1 -> wedge/in]}

*Passes*
    plan: 1
    show: Passes
    units: {desk: desk-16, wedge: powered-wedge-12}
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: mix-1}}
    buses: {mix-1: {monitor-for: Voice}}
    outputs: {mix-1: desk/out 1}
    wiring: {xlr: [desk/out 1 -> wedge/in]}

*Source*
Common practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from rigbook.checks.routing._say import names
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.graph import kinds as k
from rigbook.graph.rig import Rig
from rigbook.plan.model import Bus, Channel, Output
from rigbook.text.phrase import phrase

SEVERITY = Severity.WARNING

HOUSE = ("mains", "subs", "fill", "delay")
"""Roles whose level somebody must be able to pull down in one place."""


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each mix that says so for all its sends, each send, each output."""
    for bus in rig.plan.buses.values():
        if bus.role == "monitor" and bus.pick == "post":
            yield _mix(bus)
        elif wedges := _unsaid(rig, bus):
            yield _whose(bus, wedges)
    for channel in rig.plan.channels:
        for send in channel.sends:
            target = rig.plan.buses.get((channel.desk, send.bus))
            if target and target.role == "monitor" and send.pick == "post" and target.pick != "post":
                yield _send(channel, target, Label(send.span, phrase("post-fader")))
    for output in rig.plan.outputs:
        if output.pick == "pre" and rig.plan.buses[output.desk, output.bus].role in HOUSE:
            yield _output(output)


def _unsaid(rig: Rig, bus: Bus) -> tuple[str, ...]:
    """The stage monitors of a bus that says neither a role nor a name to tell it by; empty where others hear it too."""
    if bus.role != "feed" or {"role", "sends"} & bus.record.values.keys():
        return ()
    ends = [e for leg in bus.legs for e in rig.ends_of(k.bus_node(bus.desk, bus.name, leg))]
    kinds = [rig.plan.units[e].kind if e in rig.boxes else None for e in ends]
    return tuple(ends) if all(kind and kind.get("box") == "wedge" for kind in kinds) else ()


def _whose(bus: Bus, wedges: tuple[str, ...]) -> Finding:
    return Finding(
        "monitor-after-fader",
        SEVERITY,
        phrase("`%(bus)s` ends in %(names)s and does not say whose mix it is", bus=bus.name, names=names(wedges)),
        Label(bus.span, phrase("without `monitor-for:` its sends are post-fader")),
        effect=phrase("every move of a channel fader changes the monitor"),
        remedy=phrase("write `monitor-for:` and the name of who hears it at `%(bus)s`", bus=bus.name),
        objects=frozenset({bus.name}),
    )


def _mix(bus: Bus) -> Finding:
    return Finding(
        "monitor-after-fader",
        SEVERITY,
        phrase("the sends to the monitor mix `%(bus)s` are post-fader", bus=bus.name),
        Label(bus.record.at("sends"), phrase("all of them, unless a send says otherwise")),
        effect=phrase("every move of a channel fader changes the monitor"),
        remedy=phrase("take `sends: post` out of `%(bus)s`", bus=bus.name),
        objects=frozenset({bus.name}),
    )


def _send(channel: Channel, bus: Bus, where: Label) -> Finding:
    return Finding(
        "monitor-after-fader",
        SEVERITY,
        phrase(
            "the send of `%(channel)s` to the monitor mix `%(bus)s` is post-fader", channel=channel.name, bus=bus.name
        ),
        where,
        effect=phrase("every move of the fader of `%(channel)s` changes `%(bus)s`", channel=channel.name, bus=bus.name),
        remedy=phrase("take `post` out of the send"),
        objects=frozenset({bus.name, f"channel {channel.number}"}),
    )


def _output(output: Output) -> Finding:
    return Finding(
        "monitor-after-fader",
        SEVERITY,
        phrase("`%(output)s` is taken before its fader", output=output.name),
        Label(output.record.at("pick-off"), phrase("pre-fader")),
        effect=phrase("pulling the fader of `%(bus)s` down does not make it quieter", bus=output.bus),
        remedy=phrase("take `pick-off: pre` out"),
        objects=frozenset({output.name}),
    )
