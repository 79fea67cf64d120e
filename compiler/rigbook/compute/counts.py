"""How much there is of everything: the key figures of a rig, counted from its plan."""

from __future__ import annotations

from rigbook.graph.rig import Rig
from rigbook.records import frozen


@frozen
class Counts:
    """Numbers of things in use. Spares are left out."""

    channels: int
    """Input channels of the desks."""
    sources: int
    """Sockets that a source is plugged into."""
    buses: int
    monitor_mixes: int
    outputs: int
    """Sockets that a bus leaves by."""
    units: int
    boxes: int
    """Speakers of any build."""
    subs: int
    monitors: int
    """Speakers built as stage monitors."""
    amplifiers: int
    cables: int
    """Cables, a multicore once."""
    lines: int
    """Lines in them."""
    racks: int
    circuits: int
    radio_channels: int


def counts(rig: Rig) -> Counts:
    """Counts of a rig."""
    plan = rig.plan
    units = [u for u in plan.units.values() if not u.spare]
    builds = [str(u.kind.get("box") or "") if (u := plan.units[n]).kind else "" for n in rig.boxes]
    power, radio = plan.sections.get("power"), plan.sections.get("radio")
    return Counts(
        channels=len(plan.channels),
        sources=sum(len(c.plugged) for c in plan.channels if c.source_key),
        buses=len(plan.buses),
        monitor_mixes=sum(b.role == "monitor" for b in plan.buses.values()),
        outputs=sum(len(o.sockets) for o in plan.outputs),
        units=len(units),
        boxes=len(builds),
        subs=builds.count("sub"),
        monitors=builds.count("wedge"),
        amplifiers=sum(u.family == "amplifier" for u in units),
        cables=len({c.sheath for c in plan.cables}),
        lines=len(plan.cables),
        racks=len(plan.racks),
        circuits=len(power.get("circuits", ())) if power else 0,
        radio_channels=len(radio.get("channels", ())) if radio else 0,
    )
