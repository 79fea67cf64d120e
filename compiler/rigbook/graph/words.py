"""Nodes and ways in the words of the trade."""

from __future__ import annotations

from types import MappingProxyType
from typing import Final

from rigbook.graph import kinds as k
from rigbook.graph.rig import Edge, Rig
from rigbook.text.phrase import joined, phrase
from rigbook.units.quantity import Quantity

LEGS: Final = MappingProxyType({"left": phrase("left"), "right": phrase("right")})
LEVELS: Final = MappingProxyType(
    {
        "mic": phrase("mic level"),
        "line": phrase("line level"),
        "mic or line": phrase("mic or line level"),
        "instrument": phrase("instrument level"),
        "speaker": phrase("speaker level"),
        "100 V line": phrase("100 V line level"),
        "headphone": phrase("headphone level"),
    }
)
PICKS: Final = MappingProxyType({"pre": phrase("pre-fader"), "post": phrase("post-fader")})


def node_words(rig: Rig, node: str) -> str:
    """A node as said on stage: `channel 7 Fiddle`, `bus main left`, `box/out 3`, `top-left`."""
    data = rig.net.nodes[node]
    several = _desks(rig) > 1
    match data["kind"]:
        case k.SOURCE:
            channel = data["channel"]
            source = channel.source_kind.title if channel.source_kind else channel.source_key
            return phrase("%(name)s (%(source)s)", name=channel.name, source=source)
        case k.CHANNEL:
            channel = data["channel"]
            words = side(phrase("channel %(number)s %(name)s", number=channel.number, name=channel.name), data["leg"])
            return phrase("%(name)s of %(desk)s", name=words, desk=data["unit"]) if several else words
        case k.BUS:
            words = side(phrase("bus %(name)s", name=data["bus"].name), data["leg"])
            return phrase("%(name)s of %(desk)s", name=words, desk=data["unit"]) if several else words
        case k.INSERT_POINT:
            owner = data.get("channel") or data["bus"]
            number = getattr(owner, "number", 0)
            if number:
                said = phrase("insert of channel %(number)s %(name)s", number=number, name=owner.name)
            else:
                said = phrase("insert of bus %(name)s", name=owner.name)
            return side(said, data["leg"])
        case _:
            return node


def level_words(level: str) -> str:
    """A level as said in a sentence: `line level`."""
    return LEVELS.get(level) or f"{level} level"


def side(name: str, leg: str) -> str:
    """A name with the side that is meant, where there are two."""
    return joined((name, LEGS.get(leg, leg)), " ") if leg else name


def _desks(rig: Rig) -> int:
    return sum(u.family == "desk" for u in rig.plan.units.values())


def edge_words(rig: Rig, edge: Edge) -> str:
    """What lies between two nodes: the cable with its length, the send with its level, the link."""
    data = rig.net.edge(edge)
    match data["kind"]:
        case k.CABLE:
            cable = data["cable"]
            if not cable.length:
                return phrase("%(kind)s cable", kind=cable.kind_name)
            return phrase("%(kind)s cable %(length)s", kind=cable.kind_name, length=cable.length)
        case k.SEND:
            pick = PICKS[data["pick"]]
            if not data["send"].level:
                return phrase("send %(pick)s", pick=pick)
            level = Quantity(data["level"], "dB", "level", "", f"{data['level']:+g}")
            return phrase("send %(level)s %(pick)s", level=level, pick=pick)
        case k.LEAVE | k.LISTEN:
            return phrase("patched over %(cables)s", cables=joined(data["via"])) if data["via"] else phrase("patched")
        case k.INSERT:
            return phrase("insert")
        case k.LINK:
            return phrase("link-through")
        case k.PLUG:
            return phrase("plugged in")
        case k.INSIDE:
            return phrase("through it")
        case _:
            return phrase("sounds")


def path_words(rig: Rig, path: list[Edge]) -> str:
    """A way in one line: what it passes, in order."""
    if not path:
        return ""
    return joined([node_words(rig, path[0][0]), *(node_words(rig, e[1]) for e in path)], " -> ")
