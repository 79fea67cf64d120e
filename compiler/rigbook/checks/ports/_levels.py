"""At which level a signal comes to a socket: passive units pass on what comes into them."""

from __future__ import annotations

from rigbook.graph import kinds as k
from rigbook.graph.rig import Rig
from rigbook.plan.model import Channel
from rigbook.units.quantity import Quantity

EITHER = "mic or line"
LINE_FROM_DBU = -15.0
"""A line source below this has the level of an instrument (common practice: nominal line levels begin at -10 dBV)."""


def levels(rig: Rig) -> dict[str, frozenset[str]]:
    """For each socket and source the levels of what comes out of it, or into it; empty where that is not known."""
    got: dict[str, frozenset[str]] = {}
    for node in rig.order:
        data = rig.net.nodes[node]
        if data["kind"] == k.SOURCE:
            got[node] = frozenset({source_level(data["channel"])})
        elif data["kind"] == k.SOCKET:
            port = data["port"]
            if port.direction == "out" and port.level != EITHER:
                got[node] = frozenset({port.level})
            else:
                before = (got.get(b, frozenset()) for b in rig.net.pred[node] if b in got)
                got[node] = frozenset().union(*before)
    return got


def source_level(channel: Channel) -> str:
    """The level that a channel's source gives: mic, line or instrument."""
    if channel.source_key in ("mic", "di"):
        return "mic"
    level = channel.source_kind.get("output-level") if channel.source_kind else None
    quiet = isinstance(level, Quantity) and level.value < LINE_FROM_DBU
    return "instrument" if quiet else "line"
