"""How one finds out in the walk test that an insert is in: what stands in it is turned down, and the sound follows."""

from __future__ import annotations

from rigbook.graph import kinds as k
from rigbook.graph.build import inserted
from rigbook.graph.kinds import bus_node, channel_node
from rigbook.graph.rig import Rig
from rigbook.plan.model import Bus, Channel
from rigbook.text.phrase import joined


def units_of(rig: Rig, owner: Channel | Bus) -> str:
    """Names of the units in the insert of a channel or bus; empty where none is."""
    if owner.insert is None:
        return ""
    if isinstance(owner, Channel):
        nodes = [channel_node(owner.desk, owner.number, leg) for leg in owner.legs]
    else:
        nodes = [bus_node(owner.desk, owner.name, leg) for leg in owner.legs]
    inside = (rig.net.edge(e) for n in nodes for e in sorted(inserted(rig.net, n)))
    return joined(dict.fromkeys(d["unit"].name for d in inside if d["kind"] == k.INSIDE))
