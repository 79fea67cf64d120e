"""A channel that goes nowhere.

*What it finds*
A channel that is sent to no bus; a channel that the plan mutes. A send that is only not open yet is written `off` and
left alone.

*Why it matters on stage*
There is level on the channel and nothing is heard, in the house or on stage.

*Put it right*
Write where it goes: `to: main`. Take `muted: yes` out, or take the channel out.

*Fails*
    plan: 1
    show: Fails
    units: {desk: desk-16, top: powered-top-12}
    inputs:
      1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main}
      2: {name: Fiddle, from: desk/line 2, mic: dynamic-instrument, source: instrument}
    buses: {main: {}}
    outputs: {main: desk/out 1}
    wiring: {xlr: [desk/out 1 -> top/in]}

*Passes*
    plan: 1
    show: Passes
    units: {desk: desk-16, top: powered-top-12}
    inputs:
      1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main}
      2: {name: Fiddle, from: desk/line 2, mic: dynamic-instrument, source: instrument, to: main off}
    buses: {main: {}}
    outputs: {main: desk/out 1}
    wiring: {xlr: [desk/out 1 -> top/in]}

*Source*
Common practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from rigbook.findings.finding import Finding, Label, Severity
from rigbook.graph.rig import Rig
from rigbook.plan.model import Channel
from rigbook.text.phrase import phrase

SEVERITY = Severity.WARNING
ABSENCE = True


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each channel."""
    for channel in rig.plan.channels:
        if channel.record.get("muted"):
            yield _finding(
                channel,
                phrase(
                    "channel %(number)s `%(channel)s` is muted by the plan", number=channel.number, channel=channel.name
                ),
                Label(channel.record.at("muted"), phrase("muted")),
                phrase("take `muted: yes` out, or write the sends `off` that are opened later"),
            )
        elif not {"to"} & (channel.record.spans.keys() | channel.record.broken):
            buses = [b.name for b in rig.plan.buses.values() if b.desk == channel.desk]
            yield _finding(
                channel,
                phrase(
                    "channel %(number)s `%(channel)s` is sent to no bus", number=channel.number, channel=channel.name
                ),
                Label(channel.span, phrase("it has no `to:`")),
                phrase("write where it goes: `to: %(buses)s`", buses=buses[0])
                if buses
                else phrase("name a bus under `buses:` and send to it"),
            )


def _finding(channel: Channel, message: str, where: Label, remedy: str) -> Finding:
    return Finding(
        "sends-to-nowhere",
        SEVERITY,
        message,
        where,
        effect=phrase("nobody hears `%(channel)s`", channel=channel.name),
        remedy=remedy,
        objects=frozenset({f"channel {channel.number}", channel.name}),
    )
