"""From a name as typed in a note to the one thing of the rig that it means."""

from __future__ import annotations

from rigbook.graph import kinds as k
from rigbook.graph.find import find_node
from rigbook.graph.rig import Rig


def place_of(rig: Rig, name: str) -> tuple[str, str] | None:
    """Sort and name of the one thing that a text names; None where there is none, or more than one."""
    plan = rig.plan
    if name in plan.units:
        return "unit", name
    if name in plan.racks:
        return "rack", name
    several = sum(u.family == "desk" for u in plan.units.values()) > 1
    matches = find_node(rig, name).matches
    if not matches:
        return None
    first = matches[0]
    if first.startswith("sheath "):
        return "cable", first[7:]
    data = rig.net.nodes[first]
    if data["kind"] == k.BUS and all(rig.net.nodes[m].get("bus") is data["bus"] for m in matches):
        return "bus", f"{data['unit']} {data['bus'].name}" if several else data["bus"].name
    if data["kind"] in (k.CHANNEL, k.SOURCE):
        channel = data["channel"]
        return "channel", f"{channel.desk} {channel.number}"
    if len(matches) > 1:
        return None
    return ("socket", first) if data["kind"] in (k.SOCKET, k.UNKNOWN) else ("unit", first)
