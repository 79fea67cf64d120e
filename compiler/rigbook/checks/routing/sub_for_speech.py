"""A voice that is sent to the subs.

*What it finds*
A channel whose source is speech or a vocal, with a send to the bus of the subs.

*Why it matters on stage*
A voice has nothing to play there. Pops, handling noise, wind and the rumble of the stage are what the subs make of it.

*Put it right*
Take the sub bus out of the sends of the voice. For a beat-boxer or a bass singer accept the finding with the reason.

*Fails*
    plan: 1
    show: Fails
    units: {desk: desk-16, top: powered-top-12, sub: powered-sub-18}
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: [main, subs]}}
    buses: {main: {low-cut: 100 Hz lr 24 dB/oct}, subs: {high-cut: 100 Hz lr 24 dB/oct}}
    outputs: {main: desk/out 1, subs: desk/out 2}
    wiring: {xlr: [desk/out 1 -> top/in, desk/out 2 -> sub/in]}

*Passes*
    plan: 1
    show: Passes
    units: {desk: desk-16, top: powered-top-12, sub: powered-sub-18}
    inputs: {1: {name: Bass, from: desk/line 1, di: di-passive, line: bass-guitar, source: bass, to: [main, subs]}}
    buses: {main: {low-cut: 100 Hz lr 24 dB/oct}, subs: {high-cut: 100 Hz lr 24 dB/oct}}
    outputs: {main: desk/out 1, subs: desk/out 2}
    wiring: {xlr: [desk/out 1 -> top/in, desk/out 2 -> sub/in]}

*Source*
Common practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from rigbook.findings.finding import Finding, Label, Severity
from rigbook.graph.rig import Rig
from rigbook.text.phrase import phrase

SEVERITY = Severity.NOTE

VOICES = ("speech", "vocal")


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each send."""
    for channel in rig.plan.channels:
        if channel.kind_of_source not in VOICES:
            continue
        for send in channel.sends:
            bus = rig.plan.buses.get((channel.desk, send.bus))
            if bus and bus.role == "subs" and not send.off:
                yield Finding(
                    "sub-for-speech",
                    SEVERITY,
                    phrase("the voice `%(channel)s` is sent to `%(bus)s`", channel=channel.name, bus=bus.name),
                    Label(send.span, phrase("this bus feeds the subs")),
                    (Label(channel.record.at("source"), phrase("a voice")),),
                    effect=phrase("pops, handling noise and stage rumble come out of the subs"),
                    remedy=phrase(
                        "take `%(bus)s` out of the `to:` of channel %(number)s", bus=bus.name, number=channel.number
                    ),
                    objects=frozenset({f"channel {channel.number}", channel.name}),
                )
