"""What each box is for: what feeds it, and so whether it plays to the audience, the stage, or the low end."""

from __future__ import annotations

from functools import cached_property

from rigbook.graph.arrivals import Arrival, arrivals
from rigbook.graph.rig import Rig
from rigbook.plan.model import Kind, Unit
from rigbook.records import frozen


@frozen
class Box:
    """A speaker in use and what it is for."""

    unit: Unit
    kind: Kind
    roles: frozenset[str]
    """Roles of the buses that feed it."""
    legs: tuple[str, ...]
    """Bus legs that feed it."""
    elsewhere: bool = False
    """Plays in another room, such as the dressing rooms: all that feeds it says `role: feed`."""

    @property
    def name(self) -> str:
        """Name of the unit."""
        return self.unit.name

    @property
    def build(self) -> str:
        """What it is built for: top, sub, wedge, fill, delay."""
        return str(self.kind.get("box", "top"))

    @property
    def is_sub(self) -> bool:
        """Built for the low end."""
        return self.build == "sub"

    @property
    def to_stage(self) -> bool:
        """Plays to the stage: only monitor mixes feed it, or it is built as a wedge and no bus says another role."""
        if self.build == "wedge":
            return self.roles <= {"monitor", "feed"}
        return bool(self.roles) and self.roles <= {"monitor"}

    @property
    def helps(self) -> bool:
        """A fill or delay box: it helps another one."""
        by_build = self.build in ("fill", "delay")
        said = bool(self.unit.record.get("supports"))
        near = said or by_build or bool(self.roles & {"fill", "delay"})
        return near and not self.to_stage and not self.is_sub and not self.elsewhere

    @property
    def is_main(self) -> bool:
        """A main box for the audience."""
        return not self.to_stage and not self.is_sub and not self.helps and not self.elsewhere


class Boxes:
    """Every box of a rig, with the ways by which its buses arrive."""

    def __init__(self, rig: Rig) -> None:
        self._rig = rig

    @cached_property
    def all(self) -> tuple[Box, ...]:
        """Every speaker in use whose kind is known, in plan order."""
        out = []
        for name in self._rig.boxes:
            unit = self._rig.plan.units[name]
            if unit.kind is None:
                continue
            legs = tuple(dict.fromkeys(leg for leg, _ in self.ways.get(name, ())))
            buses = [self._rig.net.nodes[leg]["bus"] for leg in legs]
            # a bus with neither a role nor a telling name counts as a feed, and may well be the front of house
            away = bool(buses) and all(b.role in ("feed", "record") and b.record.get("role") for b in buses)
            out.append(Box(unit, unit.kind, frozenset(b.role for b in buses), legs, away))
        return tuple(out)

    @cached_property
    def by_name(self) -> dict[str, Box]:
        """Boxes by name."""
        return {b.name: b for b in self.all}

    @cached_property
    def ways(self) -> dict[str, list[tuple[str, Arrival]]]:
        """For each end, every arrival with the bus leg that it comes from."""
        out: dict[str, list[tuple[str, Arrival]]] = {}
        for node, data in self._rig.net.nodes.items():
            if data["kind"] == "bus":
                for arrival in arrivals(self._rig, node):
                    out.setdefault(arrival.end, []).append((node, arrival))
        return out

    @cached_property
    def audience(self) -> tuple[Box, ...]:
        """Boxes that play to the audience, subs left out."""
        return tuple(b for b in self.all if not b.to_stage and not b.is_sub and not b.elsewhere)

    @cached_property
    def subs(self) -> tuple[Box, ...]:
        """Boxes of the low end that play to the audience."""
        return tuple(b for b in self.all if b.is_sub and not b.to_stage and not b.elsewhere)
