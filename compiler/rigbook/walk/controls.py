"""Which faders, mutes and sends matter in a step, and how each is set."""

from __future__ import annotations

from collections import deque
from typing import Any, Final

from rigbook.graph import kinds as k
from rigbook.graph.build import leg_of
from rigbook.graph.kinds import bus_node, channel_node
from rigbook.graph.rig import Rig
from rigbook.graph.words import PICKS
from rigbook.plan.model import Bus, Channel, Output
from rigbook.text.phrase import joined, phrase
from rigbook.units.quantity import Amount
from rigbook.walk.inserts import units_of
from rigbook.walk.step import START_DB, Control, name_of, once

MOST_NAMED: Final = 40
"""Other buses that are named one by one; of more, "every other bus" is what a person reads anyway."""
Sends = list[tuple[str, dict[str, Any]]]


def playback(rig: Rig, desk: str) -> Channel | None:
    """The channel to play test signals into: one that plays music anyway, or any line source."""
    return once(rig, f"playback {desk}", lambda: _playback(rig, desk))


def _playback(rig: Rig, desk: str) -> Channel | None:
    mine = [c for c in rig.plan.channels if c.desk == desk]
    for wanted in ("playback", "keys"):
        got = next((c for c in mine if c.kind_of_source == wanted), None)
        if got:
            return got
    return next((c for c in mine if c.source_key == "line"), None)


def controls(rig: Rig, desk: str, buses: tuple[Bus, ...], channel: Channel | None, pan: str) -> tuple[Control, ...]:
    """The channel, its way to each bus, the faders of the buses, and what is muted."""
    out = [_channel(channel, pan)]
    # a bus that is tested itself is up and open; that the test of another passes through it changes nothing
    own = {name_of(rig, b.desk, b.name) for b in buses}
    for bus in buses:
        way = [c for c in _way(rig, bus, channel) if not (c.sort == "bus" and c.name in own)]
        out += [c for c in (*way, _bus(rig, bus), *_insert(rig, bus)) if c not in out]
    names = {b.name for b in buses}
    leaving = _leaving(rig, desk)
    if len(leaving) > MOST_NAMED + len(names):
        out.append(Control("", "", phrase("every other bus"), phrase("muted")))
    elif rest := [b for b in leaving if b.name not in names]:
        muted = joined(b.title for b in rest)
        out.append(Control("", "", phrase("every other bus: %(buses)s", buses=muted), phrase("muted")))
    out.append(Control("", "", phrase("every other channel"), phrase("muted")))
    return tuple(out)


def _channel(channel: Channel | None, pan: str) -> Control:
    setting = phrase(
        "fader at %(level)s to begin with, then up until it is clear; pan %(pan)s",
        level=Amount(str(START_DB), "dB"),
        pan=pan,
    )
    if channel is None:
        return Control("", "", phrase("a free channel with a player on it"), setting)
    words = phrase("channel %(number)s %(name)s", number=channel.number, name=channel.name)
    return Control("channel", f"{channel.desk} {channel.number}", words, setting)


def _bus(rig: Rig, bus: Bus) -> Control:
    outputs = outlets(rig, bus)
    before = [o for o in outputs if o.pick == "pre"]
    setting = phrase("fader at 0 dB, mute off")
    if before and len(before) == len(outputs):
        setting = phrase("mute off; its output leaves before the fader, which does nothing here")
    return Control("bus", name_of(rig, bus.desk, bus.name), bus.title, setting)


def _insert(rig: Rig, bus: Bus) -> tuple[Control, ...]:
    """Outboard equipment that the signal of a bus passes: noise through a compressor tells nothing of the boxes."""
    if units := units_of(rig, bus):
        setting = phrase(
            "in, and %(units)s on, set so that it does not act; with its output turned down the sound must follow",
            units=units,
        )
        return (Control("", "", phrase("insert of %(bus)s", bus=bus.title), setting),)
    return ()


def _leaving(rig: Rig, desk: str) -> list[Bus]:
    """The buses of a desk that leave it."""
    every = rig.plan.buses.values()
    return once(rig, f"leaving {desk}", lambda: [b for b in every if b.desk == desk and outlets(rig, b)])


def outlets(rig: Rig, bus: Bus) -> list[Output]:
    """The outputs by which a bus leaves its desk."""
    return once(rig, "outputs", lambda: _outputs(rig)).get((bus.desk, bus.name), [])


def _outputs(rig: Rig) -> dict[tuple[str, str], list[Output]]:
    out: dict[tuple[str, str], list[Output]] = {}
    for output in rig.plan.outputs:
        out.setdefault((output.desk, output.bus), []).append(output)
    return out


def _way(rig: Rig, bus: Bus, channel: Channel | None) -> list[Control]:
    """The sends on the shortest way from the channel to the bus; or that one must be opened for the test."""
    if channel is None:
        words = phrase("send of that channel to %(bus)s", bus=bus.title)
        return [Control("", "", words, phrase("0 dB for the test"))]
    way = _shortest(rig, channel, bus)
    if way is None:
        words = phrase("send of channel %(number)s to %(bus)s", number=channel.number, bus=bus.title)
        return [Control("", "", words, phrase("closed in the plan: open it to 0 dB for the test, close it afterwards"))]
    out = []
    for node, data in way:
        tail, send = rig.net.nodes[node], data["send"]
        if tail["kind"] == k.BUS:
            through = tail["bus"]
            name = name_of(rig, through.desk, through.name)
            setting = phrase("up as well, with its own outputs muted: the test passes through it")
            out += [Control("bus", name, through.title, setting), *_insert(rig, through)]
        level = Amount(f"{data['level']:+g}" if send.level else "0", "dB")
        whose = tail["bus"].title if tail["kind"] == k.BUS else phrase("channel %(n)s", n=channel.number)
        words = phrase("send of %(whose)s to %(bus)s", whose=whose, bus=send.bus)
        out.append(Control("", "", words, joined((level, PICKS[data["pick"]]))))
    return out


def _shortest(rig: Rig, channel: Channel, bus: Bus) -> Sends | None:
    """Sends from a channel to a bus, as (node they leave, what the plan says of them); None where there is no way."""
    starts = [channel_node(channel.desk, channel.number, leg) for leg in channel.legs]
    targets = {bus_node(bus.desk, bus.name, leg) for leg in bus.legs}
    came: dict[str, Sends] = {s: [] for s in starts}
    queue = deque(starts)
    while queue:
        node = queue.popleft()
        if node in targets:
            return came[node]
        if node not in rig.net:
            continue
        for edge, data in rig.edges_out(node):
            after = leg_of(rig.net, edge[1])
            if data["kind"] == k.SEND and after not in came:
                came[after] = [*came[node], (node, data)]
                queue.append(after)
    return None
