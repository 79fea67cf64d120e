"""A stereo channel on one mono socket.

*What it finds*
A channel with `stereo: yes` that comes from a single XLR or jack socket.

*Why it matters on stage*
One side is missing, or both are patched together into one socket.

*Put it right*
Give it two sockets side by side (`from: box/in 12+13`), or take `stereo: yes` off.

*Fails*
    plan: 1
    show: Fails
    units: {desk: desk-16, left: powered-top-12}
    inputs: {3: {name: Keys, from: desk/line 3, di: di-passive, source: keys, stereo: yes, to: main}}
    buses: {main: {}}
    outputs: {main: desk/out 1}
    wiring: {xlr: [desk/out 1 -> left/in]}

*Passes*
    plan: 1
    show: Passes
    units: {desk: desk-16, left: powered-top-12}
    inputs: {3: {name: Keys, from: desk/line 3+4, di: di-stereo-passive, source: keys, stereo: yes, to: main}}
    buses: {main: {}}
    outputs: {main: desk/out 1}
    wiring: {xlr: [desk/out 1 -> left/in]}

*Source*
Common practice: one pair of contacts of an analogue socket carries one side.
"""

from __future__ import annotations

from collections.abc import Iterator

from rigbook.checks.ports._ends import port_of
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.graph.rig import Rig
from rigbook.text.phrase import phrase

SEVERITY = Severity.WARNING
MONO = ("xlr", "jack", "combo")
"""Connectors, as they begin, of sockets that carry one side."""


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each channel."""
    for channel in rig.plan.channels:
        if not channel.record.get("stereo") or len(channel.sockets) != 1:
            continue
        socket = channel.sockets[0]
        port = port_of(rig, socket)
        if port is None or not port.connector.startswith(MONO):
            continue
        head, _, number = socket.id.rpartition(" ")
        pair = (
            f"{socket.id}+{int(number) + 1}"
            if head and number.isdecimal()
            else phrase("%(socket)s and a second socket", socket=socket.id)
        )
        yield Finding(
            "stereo-on-one-socket",
            SEVERITY,
            phrase(
                "channel %(number)s `%(channel)s` is stereo and comes from one socket, `%(socket)s`",
                number=channel.number,
                channel=channel.name,
                socket=socket.id,
            ),
            Label(channel.record.at("from"), phrase("one side has no socket")),
            (Label(channel.record.at("stereo"), phrase("stereo here")),),
            effect=phrase("one side of `%(channel)s` is not heard", channel=channel.name),
            remedy=phrase(
                "give it two sockets side by side, such as `from: %(pair)s`, or take `stereo: yes` off", pair=pair
            ),
            objects=frozenset({socket.id, channel.name}),
        )
