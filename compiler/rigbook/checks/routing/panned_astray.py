"""A channel that is named for one side and goes to the other.

*What it finds*
A channel whose name says left or right, and that goes to the other side of a stereo bus alone, while others of that
desk go to the side of their names. A desk on which all are crossed is silent: it names them as the player sees them.
So is a name that speaks of the stage, whose left is the right of the house, or of a hand.

*Why it matters on stage*
The picture turns round: the cymbal that is seen on the left is heard on the right, or both come from one side.

*Put it right*
Write the side that the name says, or give the channel the name of the side that it goes to.

*Fails*
    plan: 1
    show: Fails
    units: {desk: desk-16, left: powered-top-12, right: powered-top-12}
    inputs:
      1: {name: Overhead left, from: desk/line 1, mic: dynamic-instrument, source: drums, to: main right}
      2: {name: Overhead right, from: desk/line 2, mic: dynamic-instrument, source: drums, to: main right}
      3: {name: Voice, from: desk/line 3, mic: dynamic-vocal, source: vocal, to: main}
    buses: {main: {stereo: yes}}
    outputs: {main left: desk/out 1, main right: desk/out 2}
    wiring: {xlr: [desk/out 1 -> left/in, desk/out 2 -> right/in]}

*Passes*
    plan: 1
    show: Passes
    units: {desk: desk-16, left: powered-top-12, right: powered-top-12}
    inputs:
      1: {name: Overhead left, from: desk/line 1, mic: dynamic-instrument, source: drums, to: main left}
      2: {name: Overhead right, from: desk/line 2, mic: dynamic-instrument, source: drums, to: main right}
      3: {name: Voice, from: desk/line 3, mic: dynamic-vocal, source: vocal, to: main}
    buses: {main: {stereo: yes}}
    outputs: {main left: desk/out 1, main right: desk/out 2}
    wiring: {xlr: [desk/out 1 -> left/in, desk/out 2 -> right/in]}

*Source*
Common practice.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from types import MappingProxyType

from rigbook.findings.finding import Finding, Label, Severity
from rigbook.graph.rig import Rig
from rigbook.language.values.sends import Send
from rigbook.plan.model import Channel
from rigbook.text.phrase import phrase

SEVERITY = Severity.WARNING
YIELDS_TO = ("sent-twice",)

SIDES = MappingProxyType({"left": "left", "l": "left", "right": "right", "r": "right", "links": "left",
                          "rechts": "right", "gauche": "left", "droite": "right"})  # fmt: skip
"""Words for a side, in the languages of the handbook."""
ELSEWHERE = frozenset({"stage", "hand", "bühne", "scène", "main"})
"""Words beside which a side is not that of the house: stage left, the left hand (`main gauche`)."""


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each channel, or for each pair of which both are crossed."""
    straight: set[str] = set()
    crossed: dict[tuple[str, str], list[tuple[Channel, Send]]] = {}
    for channel in rig.plan.channels:
        side, stem = _named(channel.name)
        for bus, sends in _by_bus(channel).items():
            legs = {s.leg for s in sends}
            if not side or len(legs) > 1 or not rig.plan.buses[channel.desk, bus].stereo or legs == {""}:
                continue
            if side in legs:
                straight.add(channel.desk)
            elif not any(c is channel for c, _ in crossed.get((channel.desk, stem), ())):
                crossed.setdefault((channel.desk, stem), []).append((channel, sends[0]))
    for (desk, _), channels in crossed.items():
        if desk in straight:
            yield _finding(channels)


def _by_bus(channel: Channel) -> dict[str, list[Send]]:
    out: dict[str, list[Send]] = {}
    for send in () if channel.stereo else channel.sends:
        out.setdefault(send.bus, []).append(send)
    return out


def _named(name: str) -> tuple[str, str]:
    """The side that a name says, and the rest of the name; nothing where it says none or both, or means another."""
    words = re.findall(r"\w+", name.lower())
    sides = {SIDES[w] for w in words if w in SIDES}
    if len(sides) != 1 or ELSEWHERE & set(words):
        return "", ""
    return sides.pop(), " ".join(w for w in words if w not in SIDES)


def _finding(channels: list[tuple[Channel, Send]]) -> Finding:
    (channel, send), *rest = channels
    other = {"left": "right", "right": "left"}[send.leg]
    target = " ".join(str(w) for w in (send.bus, other, send.level, send.pick) if w)
    return Finding(
        "panned-astray",
        SEVERITY,
        phrase("`%(a)s` and `%(b)s` go to each other's side", a=channel.name, b=rest[0][0].name)
        if rest
        else phrase("`%(channel)s` goes to `%(target)s`", channel=channel.name, target=f"{send.bus} {send.leg}"),
        Label(send.span, phrase("the other side than its name says")),
        tuple(Label(s.span, phrase("and this one")) for _, s in rest),
        effect=phrase("what is seen on one side is heard on the other"),
        remedy=phrase("exchange the sides of the two, or their names")
        if rest
        else phrase("write `%(target)s`, or name it for the side that it goes to", target=target),
        objects=frozenset(f"channel {c.number}" for c, _ in channels),
    )
