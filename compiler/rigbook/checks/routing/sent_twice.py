"""A send that is written twice.

*What it finds*
A channel or bus that is sent to the same bus, or the same side of it, by two sends.

*Why it matters on stage*
The desk has one knob for it: one of the two levels is not set, and nobody knows which.

*Put it right*
Leave the send with the level that is meant.

*Fails*
    plan: 1
    show: Fails
    units: {desk: desk-16, top: powered-top-12}
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: [main, main -6 dB]}}
    buses: {main: {}}
    outputs: {main: desk/out 1}
    wiring: {xlr: [desk/out 1 -> top/in]}

*Passes*
    plan: 1
    show: Passes
    units: {desk: desk-16, top: powered-top-12}
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main -6 dB}}
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
from rigbook.language.values.sends import Send
from rigbook.text.phrase import phrase

SEVERITY = Severity.WARNING


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each send that repeats an earlier one."""
    for channel in rig.plan.channels:
        yield from _twice(
            channel.sends,
            phrase("channel %(number)s `%(channel)s`", number=channel.number, channel=channel.name),
            f"channel {channel.number}",
        )
    for bus in rig.plan.buses.values():
        yield from _twice(bus.sends, f"`{bus.name}`", bus.name)


def _twice(sends: tuple[Send, ...], what: str, name: str) -> Iterator[Finding]:
    seen: list[Send] = []
    for send in sends:
        first = next((s for s in seen if s.bus == send.bus and (s.leg == send.leg or not (s.leg and send.leg))), None)
        seen.append(send)
        if first is None:
            continue
        target = f"{send.bus} {send.leg or first.leg}".rstrip()
        yield Finding(
            "sent-twice",
            SEVERITY,
            phrase("%(what)s is sent to `%(target)s` twice", what=what, target=target),
            Label(send.span, phrase("sent here again")),
            (Label(first.span, phrase("sent here first")),),
            effect=phrase("one of the two levels is not set, and nobody knows which"),
            remedy=phrase("take one of the two out"),
            objects=frozenset({name, f"{name} -> {send.bus}"}),
        )
