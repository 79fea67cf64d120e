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
        """Plays to the stage: only monitor mixes feed it; where nothing does, by its build."""
        return self.roles <= {"monitor"} if self.roles else self.build == "wedge"

    @property
    def helps(self) -> bool:
        """A fill or delay box: it helps another one."""
        by_build = self.build in ("fill", "delay")
        said = bool(self.unit.record.get("supports"))
        return not self.to_stage and not self.is_sub and (said or by_build or bool(self.roles & {"fill", "delay"}))

    @property
    def is_main(self) -> bool:
        """A main box for the audience."""
        return not self.to_stage and not self.is_sub and not self.helps


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
            roles = frozenset(self._rig.net.nodes[leg]["bus"].role for leg in legs)
            out.append(Box(unit, unit.kind, roles, legs))
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
        return tuple(b for b in self.all if not b.to_stage and not b.is_sub)

    @cached_property
    def subs(self) -> tuple[Box, ...]:
        """Boxes of the low end that play to the audience."""
        return tuple(b for b in self.all if b.is_sub and not b.to_stage)
