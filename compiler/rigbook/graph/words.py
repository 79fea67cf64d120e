"""Nodes and ways in the words of the trade."""

from __future__ import annotations

from rigbook.graph import kinds as k
from rigbook.graph.rig import Edge, Rig


def node_words(rig: Rig, node: str) -> str:
    """A node as said on stage: `channel 7 Fiddle`, `bus main left`, `box/out 3`, `top-left`."""
    data = rig.graph.nodes[node]
    desk = f" of {data['unit']}" if _desks(rig) > 1 else ""
    match data["kind"]:
        case k.SOURCE:
            channel = data["channel"]
            return f"{channel.name} ({channel.source_kind.title if channel.source_kind else channel.source_key})"
        case k.CHANNEL:
            channel = data["channel"]
            return f"channel {channel.number} {channel.name} {data['leg']}".rstrip() + desk
        case k.BUS:
            return f"bus {data['bus'].name} {data['leg']}".rstrip() + desk
        case _:
            return node


def _desks(rig: Rig) -> int:
    return sum(u.family == "desk" for u in rig.plan.units.values())


def edge_words(rig: Rig, edge: Edge) -> str:
    """What lies between two nodes: the cable with its length, the send with its level, the link."""
    data = rig.graph.edges[edge]
    match data["kind"]:
        case k.CABLE:
            cable = data["cable"]
            length = f" {cable.length}" if cable.length else ""
            return f"{cable.kind_name} cable{length}"
        case k.SEND:
            level = f" {data['level']:+g} dB" if data["send"].level else ""
            return f"send{level} {data['pick']}-fader"
        case k.LEAVE | k.LISTEN:
            way = f" over {', '.join(data['via'])}" if data["via"] else ""
            return f"patched{way}"
        case k.LINK:
            return "link-through"
        case k.PLUG:
            return "plugged in"
        case k.INSIDE:
            return "through it"
        case _:
            return "sounds"


def path_words(rig: Rig, path: list[Edge]) -> str:
    """A way in one line: what it passes, in order."""
    if not path:
        return ""
    return " -> ".join([node_words(rig, path[0][0]), *(node_words(rig, e[1]) for e in path)])
