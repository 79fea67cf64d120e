"""The inverted table: for every fault, what would be heard and seen that is not as planned.

`trial.py` fills it.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from functools import cached_property
from typing import Final, NamedTuple

from rigbook.graph.rig import Rig
from rigbook.records import frozen
from rigbook.walk.cones import States
from rigbook.walk.fault import Fault
from rigbook.walk.line_check import Line
from rigbook.walk.plays import Play
from rigbook.walk.step import Step, name_of
from rigbook.walk.wires import Wires

HEAR, PAIR, FADER, LIGHT, EXCHANGE = "hear", "pair", "fader", "light", "exchange"
HEARD: Final = (HEAR, PAIR, FADER)
"""What a step itself lets hear; the rest are probes."""
LIT, DARK = "lit", "dark"


class Seen(NamedTuple):
    """Something to hear or see: a box in a play, a pair, a box after the fader is down, a light, a box with two cables
    exchanged; or a look.
    """

    kind: str
    play: str
    """Empty for a look, which needs no sound."""
    subject: str
    """A box; `a|b` for a pair; a socket, channel or bus for a light; `cable|cable|unit|box` for an exchange; what is
    looked at.
    """


@frozen
class Row:
    """A fault and everything that is not as planned with it."""

    fault: Fault
    effects: Mapping[Seen, str]
    behind: bool
    """All of it lies behind a desk's outputs."""
    reason: str
    """Why no step shows it; empty where one does."""

    @cached_property
    def heard(self) -> frozenset[tuple[Seen, str]]:
        """What shows in the steps themselves, without a probe."""
        return frozenset((s, v) for s, v in self.effects.items() if s.kind in HEARD)

    @cached_property
    def pattern(self) -> frozenset[tuple[Seen, str]]:
        """All of it: rows of one pattern are told apart by nothing."""
        return frozenset(self.effects.items())

    @cached_property
    def touched(self) -> frozenset[str]:
        """Everything that is not as planned in some play; with two cables exchanged other boxes hang on the fault."""
        plain = (s for s in self.effects if s.play and s.kind != EXCHANGE)
        return frozenset(part for s in plain for part in s.subject.split("|"))


@frozen
class Table:
    """The walk test of a rig with every fault tried in it."""

    rig: Rig
    wires: Wires
    steps: tuple[Step, ...]
    lines: tuple[Line, ...]
    plays: tuple[Play, ...]
    states: tuple[States, ...]
    """What is at each node as planned, by play."""
    rows: tuple[Row, ...]

    @staticmethod
    def of(rig: Rig) -> Table:
        """Try every fault."""
        from rigbook.walk.trial import trial

        return trial(rig).table()

    @cached_property
    def testable(self) -> tuple[Row, ...]:
        """Faults that some step shows."""
        return tuple(r for r in self.rows if not r.reason)

    @cached_property
    def untestable(self) -> tuple[Row, ...]:
        """Faults that no step shows, with the reason."""
        return tuple(r for r in self.rows if r.reason)

    @cached_property
    def line_keys(self) -> frozenset[str]:
        """Keys of the line check."""
        return frozenset(line.key for line in self.lines)

    @cached_property
    def must(self) -> Mapping[str, frozenset[str]]:
        """By step and line: what must sound."""
        steps = {step.key: frozenset(e.end for e in step.expect) for step in self.steps}
        return steps | {line.key: frozenset(line.heard) for line in self.lines}

    @cached_property
    def buses(self) -> Mapping[str, frozenset[str]]:
        """By name of a bus: everything that it reaches, both sides; the bus that reaches most first."""
        out: dict[str, set[str]] = {}
        for step in self.steps:
            if step.kind == "leg" and step.bus:
                out.setdefault(name_of(self.rig, step.desk, step.bus.name), set()).update(e.end for e in step.expect)
        return {name: frozenset(out[name]) for name in sorted(out, key=lambda n: (-len(out[n]), n))}

    @cached_property
    def place(self) -> Mapping[str, int]:
        """By key of a step or line: where it stands in the walk."""
        keys = [*(step.key for step in self.steps), *(line.key for line in self.lines)]
        return {key: i for i, key in enumerate(keys)}

    def buses_among(self, boxes: Iterable[str]) -> list[str]:
        """The buses that reach any of some boxes, in the order of `buses`."""
        found, reached = 0, self._reached_by
        for box in boxes:
            found |= reached.get(box, 0)
        return [name for number, name in enumerate(self.buses) if found >> number & 1] if found else []

    @cached_property
    def _reached_by(self) -> Mapping[str, int]:
        """By box: the places in `buses` of those that reach it, as bits."""
        out: dict[str, int] = {}
        for number, boxes in enumerate(self.buses.values()):
            for box in boxes:
                out[box] = out.get(box, 0) | 1 << number
        return out

    @cached_property
    def showing(self) -> Mapping[Seen, tuple[int, ...]]:
        """By thing to hear or see: the testable rows, by place, that make it not as planned."""
        out: dict[Seen, list[int]] = {}
        for i, row in enumerate(self.testable):
            for seen in row.effects:
                out.setdefault(seen, []).append(i)
        return {seen: tuple(rows) for seen, rows in out.items()}

    @cached_property
    def touching(self) -> Mapping[str, tuple[int, ...]]:
        """By box, light or meter: the testable rows behind the desk that change it."""
        out: dict[str, list[int]] = {}
        for i, row in enumerate(self.testable):
            for name in row.touched if row.behind else ():
                out.setdefault(name, []).append(i)
        return {name: tuple(rows) for name, rows in out.items()}
