"""The line check: each input in the order of the list, what it needs and where it must be heard."""

from __future__ import annotations

from dataclasses import dataclass

from rigbook.graph.kinds import channel_node
from rigbook.graph.rig import Rig
from rigbook.plan.model import Channel


@dataclass(frozen=True)
class Line:
    """One input of the line check."""

    channel: Channel
    socket: str
    source: str
    phantom: bool
    heard: tuple[str, ...]
    """Speakers that it must be heard from, once its fader and sends are up."""


def line_check(rig: Rig) -> tuple[Line, ...]:
    """Every channel, by desk and number."""
    out = []
    for channel in rig.plan.channels:
        heard: list[str] = []
        for leg in channel.legs:
            heard += rig.boxes_of(channel_node(channel.desk, channel.number, leg))
        out.append(
            Line(
                channel,
                ", ".join(s.id for s in channel.sockets),
                channel.source_kind.title if channel.source_kind else "cabled",
                bool(channel.record.get("phantom", False)),
                tuple(dict.fromkeys(heard)),
            )
        )
    return tuple(out)
