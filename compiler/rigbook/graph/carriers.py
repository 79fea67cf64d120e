"""Network cables: they carry many signals at once, so they stand beside the graph, and edges say which carry them."""

from __future__ import annotations

from collections import deque

from rigbook.plan.model import Cable, Plan
from rigbook.records import field, frozen

FREE = ("network", "mains", "radio")


@frozen
class Carriers:
    """The network of a plan: which cables join which units, and the shortest way between two units."""

    cables: tuple[Cable, ...]
    joins: dict[str, list[tuple[str, Cable]]]
    free: frozenset[int]
    """Identities of cables that carry no single signal."""
    known: dict[tuple[str, str], tuple[str, ...]] = field(default_factory=dict)
    """Ways already looked up; a unit reaches itself by no cable."""

    @staticmethod
    def of(plan: Plan) -> Carriers:
        """The network of a plan."""
        cables, joins, free = [], dict[str, list[tuple[str, Cable]]](), set()
        for cable in plan.cables:
            level = _level(plan, cable)
            if level not in FREE:
                continue
            free.add(id(cable))
            if level == "network":
                cables.append(cable)
                joins.setdefault(cable.start.unit, []).append((cable.end.unit, cable))
                joins.setdefault(cable.end.unit, []).append((cable.start.unit, cable))
        return Carriers(tuple(cables), joins, frozenset(free))

    def carries_signal(self, cable: Cable) -> bool:
        """True for a cable that is an edge of the graph."""
        return id(cable) not in self.free

    def between(self, a: str, b: str) -> tuple[str, ...]:
        """Sheaths of the network cables on the shortest way from unit to unit; empty where there is none."""
        if a == b:
            return ()
        if (a, b) not in self.known:
            self.known[a, b] = tuple(c.sheath for c in self._way(a, b))
        return self.known[a, b]

    def joined(self, a: str, b: str) -> bool:
        """True if network cables join the two units, or they are one unit."""
        return a == b or bool(self.between(a, b))

    def _way(self, a: str, b: str) -> list[Cable]:
        came: dict[str, tuple[str, Cable] | None] = {a: None}
        queue = deque([a])
        while queue:
            here = queue.popleft()
            if here == b:
                break
            for there, cable in self.joins.get(here, ()):
                if there not in came:
                    came[there] = (here, cable)
                    queue.append(there)
        way: list[Cable] = []
        step = came.get(b)
        while step is not None:
            way.append(step[1])
            step = came[step[0]]
        return way[::-1]


def _level(plan: Plan, cable: Cable) -> str:
    """What a cable carries: as its kind says; else as the ports it joins say."""
    for socket in (cable.start, cable.end):
        unit = plan.units.get(socket.unit)
        port = unit.kind.ports.get(socket.port) if unit and unit.kind else None
        if port is not None and port.level in FREE:
            return port.level
    return str(cable.kind.get("carries", "line")) if cable.kind else "line"
