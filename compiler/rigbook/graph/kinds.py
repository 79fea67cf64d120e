"""The one table of what the graph is made of.

Nodes are named by strings: a socket `unit/port`, a channel `desk channel 7` (stereo: `… left`, `… right`), a bus leg
`desk bus main left`, a source `source desk 7`, a speaker by its unit's name. Every node carries `kind`, `unit`,
`span`; sockets carry `port` (the plan's `Port`, None where the kind is unknown).

Every edge carries `kind`, `span` and `via`: the names of the sheaths that carry it besides its own (a patched
stage-box socket is carried by the network cables between the desk and the box).
"""

from __future__ import annotations

from typing import Final

SOURCE: Final = "source"
"""Node: what makes the signal: a microphone, DI, line source."""
SOCKET: Final = "socket"
"""Node: a port of a unit."""
CHANNEL: Final = "channel"
"""Node: an input channel of a desk, or one side of it."""
BUS: Final = "bus"
"""Node: a bus of a desk, or one leg of it."""
BOX: Final = "box"
"""Node: the sound of a speaker."""
SINK: Final = "sink"
"""Node: the end of a signal that is no speaker: a recorder, a declared feed."""
INSERT_POINT: Final = "insert point"
"""Node: where the signal of a channel or bus goes out to its insert; carries `channel` or `bus`, and `leg`."""
UNKNOWN: Final = "unknown"
"""Node: a socket that the plan names but that could not be resolved; nothing is judged by it."""

DESK: Final = (CHANNEL, BUS, INSERT_POINT)
"""Nodes inside a desk, from which a socket may be driven."""
NODE_KINDS: Final = (SOURCE, SOCKET, CHANNEL, BUS, BOX, SINK, INSERT_POINT, UNKNOWN)

PLUG: Final = "plug"
"""Edge: source to the socket it is plugged into."""
CABLE: Final = "cable"
"""Edge: socket to socket by a cable; carries `cable`, the plan's `Cable`."""
INSIDE: Final = "inside"
"""Edge: socket to socket inside a unit (amplifier input to output)."""
LINK: Final = "link"
"""Edge: socket to the link-through of the same unit."""
LISTEN: Final = "listen"
"""Edge: socket to the desk channel patched to it; carries `channel`."""
SEND: Final = "send"
"""Edge: channel to bus leg, or bus leg to bus leg; carries `send`, `pick`, `level`."""
LEAVE: Final = "leave"
"""Edge: bus leg to the socket it leaves by; carries `output`."""
INSERT: Final = "insert"
"""Edge: insert point to the socket it goes out by; the socket it comes back by to the channel or bus leg."""
SOUND: Final = "sound"
"""Edge: a speaker's input socket to its sound; a recorder's or feed's input to its end."""

WIRES: Final = (CABLE, INSIDE, LINK, SOUND)
"""Edges outside the desks: from the socket that a bus leaves by to what sounds."""
EDGE_KINDS: Final = (PLUG, CABLE, INSIDE, LINK, LISTEN, SEND, LEAVE, INSERT, SOUND)

SIGNAL_FREE: Final = ("network", "mains", "radio")
"""Levels of cables that carry no single audio signal: they are kept beside the graph, as `Rig.carriers`."""


def source_node(desk: str, number: int) -> str:
    """Name of the node of a channel's source."""
    return f"source {desk} {number}"


def channel_node(desk: str, number: int, leg: str = "") -> str:
    """Name of the node of a channel, or of one side of it."""
    return f"{desk} channel {number} {leg}".rstrip()


def bus_node(desk: str, bus: str, leg: str = "") -> str:
    """Name of the node of a bus leg."""
    return f"{desk} bus {bus} {leg}".rstrip()


def insert_node(node: str) -> str:
    """Name of the node where the signal of a channel or bus leg goes out to its insert."""
    return f"{node} insert"
