"""What each socket carries, in the names that people read on the desk: a channel's, or those of bus legs."""

from __future__ import annotations

from rigbook.graph import kinds as k
from rigbook.graph.rig import Rig
from rigbook.text.phrase import phrase


def carried(rig: Rig) -> dict[str, tuple[str, ...]]:
    """For each socket, the names of the channels (before the desk) or bus legs (behind it) that are on it.

    One pass from sources to boxes. What leaves a desk is named by the desk's output, whatever went into it.
    """
    out: dict[str, tuple[str, ...]] = {}
    net = rig.net
    for node in rig.order:
        names: list[str] = []
        for (a, _, _), data in net.edges_in(node):
            kind = data["kind"]
            if kind == k.LEAVE:
                names.append(data["output"].name)
            elif kind == k.INSERT and net.nodes[a]["kind"] == k.INSERT_POINT:
                # on the cable's label it is not to be taken for what the bus leaves by
                owner = net.nodes[a].get("channel") or net.nodes[a]["bus"]
                names.append(phrase("insert %(name)s", name=owner.name))
            elif kind == k.PLUG:
                names.append(data["channel"].name)
            elif kind in (k.CABLE, k.INSIDE, k.LINK, k.SOUND):
                names += out.get(a, ())
        data = net.nodes[node]
        if not names and data["kind"] == k.SOCKET and net.succ[node] and not net.pred[node]:
            unit = rig.plan.units.get(data["unit"])
            if unit is not None and data["port"] is not None and data["port"].direction == "out":
                names.append(unit.title)
        if names:
            out[node] = tuple(dict.fromkeys(names))
    return out
