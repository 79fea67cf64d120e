"""A stereo pair that does not lie side by side.

*What it finds*
A stereo channel whose two sockets are not neighbours, the left one first; two channels called `… L` and `… R` whose
numbers are not neighbours.

*Why it matters on stage*
Most desks link neighbours only, and whoever patches expects the right side beside the left one.

*Put it right*
Move one of the two beside the other.

*Fails*
    plan: 1
    show: Fails
    units: {desk: desk-16, left: powered-top-12}
    inputs: {3: {name: Keys, from: desk/line 3+6, di: di-passive, source: keys, to: main}}
    buses: {main: {}}
    outputs: {main: desk/out 1}
    wiring: {xlr: [desk/out 1 -> left/in]}

*Passes*
    plan: 1
    show: Passes
    units: {desk: desk-16, left: powered-top-12}
    inputs: {3: {name: Keys, from: desk/line 3+4, di: di-passive, source: keys, to: main}}
    buses: {main: {}}
    outputs: {main: desk/out 1}
    wiring: {xlr: [desk/out 1 -> left/in]}

*Source*
Common practice.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from rigbook.checks.ports._ends import port_of
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.graph.rig import Rig
from rigbook.plan.model import Channel, Socket
from rigbook.text.phrase import phrase

SEVERITY = Severity.NOTE
YIELDS_TO = ("double-patched-input",)
SIDE = re.compile(r"(.+?)[\s-]+([LR])")
"""Written out, `left` and `right` are where something stands: two microphones on a stage make no stereo pair."""


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each stereo channel, and for each pair of channels."""
    lefts: dict[tuple[str, str], Channel] = {}
    rights: dict[tuple[str, str], Channel] = {}
    for channel in rig.plan.channels:
        known = len(channel.sockets) == 2 and all(port_of(rig, s) for s in channel.sockets)
        if known and not _neighbours(*channel.sockets):
            yield _sockets(channel)
        side = SIDE.fullmatch(channel.name)
        if side and not channel.stereo:
            (lefts if side[2] == "L" else rights)[channel.desk, side[1].lower()] = channel
    for key, left in lefts.items():
        right = rights.get(key)
        if right is not None and right.number != left.number + 1:
            yield _channels(left, right)


def _neighbours(left: Socket, right: Socket) -> bool:
    (a, _, i), (b, _, j) = left.port.rpartition(" "), right.port.rpartition(" ")
    if left.unit != right.unit or a != b or not (i.isdecimal() and j.isdecimal()):
        return left.unit == right.unit and len(i) == len(j) == 1 and ord(j) == ord(i) + 1
    return int(j) == int(i) + 1


def _sockets(channel: Channel) -> Finding:
    left, right = channel.sockets
    return Finding(
        "stereo-pair-not-adjacent",
        SEVERITY,
        phrase(
            "the sides of channel %(number)s `%(channel)s` come from `%(left)s` and `%(right)s`",
            number=channel.number,
            channel=channel.name,
            left=left.id,
            right=right.id,
        ),
        Label(channel.record.at("from"), phrase("no neighbours, left one first")),
        effect=phrase("most desks link neighbouring sockets only"),
        remedy=phrase("take two sockets side by side, the left side on the lower number"),
        objects=frozenset({left.id, right.id, channel.name}),
    )


def _channels(left: Channel, right: Channel) -> Finding:
    return Finding(
        "stereo-pair-not-adjacent",
        SEVERITY,
        phrase(
            "`%(left)s` is channel %(number)s, `%(right)s` is channel %(number_2)s",
            left=left.name,
            number=left.number,
            right=right.name,
            number_2=right.number,
        ),
        Label(right.span, phrase("not beside its left side")),
        (Label(left.span, phrase("the left side")),),
        effect=phrase("most desks link neighbouring channels only"),
        remedy=phrase(
            "make `%(right)s` channel %(number)s, or one stereo channel of the two",
            right=right.name,
            number=left.number + 1,
        ),
        objects=frozenset({left.name, right.name}),
    )
