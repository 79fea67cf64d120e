"""Every fault tried in a rig.

Each fault is tried in the plays that its wires carry signal in, and there only from the changed wire on. Faults behind
the desk are looked for in the walk test, which comes before the line check, so they are not tried in the line check
again: there they fit whatever is heard.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import cached_property
from typing import Final, NamedTuple

from rigbook.graph import kinds as k
from rigbook.graph.rig import Rig
from rigbook.records import frozen
from rigbook.text.phrase import phrase
from rigbook.walk.cones import SILENCE, Cones, Fed, State, States
from rigbook.walk.fault import Fault
from rigbook.walk.faults import faults
from rigbook.walk.hear import HUMS, judge, judge_pair
from rigbook.walk.insert_faults import SWITCHED_OUT
from rigbook.walk.line_check import Line, line_check
from rigbook.walk.plays import Play, plays
from rigbook.walk.propagate import Difference, changed, differing, feeding, planned
from rigbook.walk.sounding import Range, range_of
from rigbook.walk.step import Step
from rigbook.walk.steps import steps
from rigbook.walk.table import DARK, FADER, HEAR, HEARD, LIGHT, LIT, PAIR, Row, Seen, Table
from rigbook.walk.wires import Change, Wires

METER: Final = Range(20.0, 20_000.0)
LIGHT_FAMILIES: Final = ("stage box", "desk", "amplifier", "processor")
Effects = dict[Seen, str]
Shown = tuple[Effects, frozenset[str]]
"""What is heard and seen, and in what way boxes differ from the plan: `polarity`, `delay`, `sound`."""


class Tried(NamedTuple):
    """A change tried in every play."""

    effects: Effects
    behind: bool
    """All of it lies behind a desk's outputs."""
    mask: int
    """The plays that it matters in, as bits."""
    reached: frozenset[str]
    """In what way boxes differ from the plan."""


NOTHING: Final[Shown] = ({}, frozenset())
TURNED: Final[Shown] = ({}, frozenset(("polarity",)))


def _both(one: Shown, two: Shown) -> Shown:
    """What two parts of the rig show that share no box."""
    if not one[0] or not two[0]:
        return (one[0] or two[0], one[1] | two[1])
    return (one[0] | two[0], one[1] | two[1])


@frozen
class Trial:
    """A rig made ready for faults to be tried."""

    rig: Rig
    wires: Wires
    steps: tuple[Step, ...]
    lines: tuple[Line, ...]
    plays: tuple[Play, ...]
    states: tuple[States, ...]

    @cached_property
    def fed(self) -> tuple[Fed, ...]:
        """By play: the wires that carry something as planned."""
        return tuple(feeding(self.wires, s) for s in self.states)

    @cached_property
    def cones(self) -> tuple[Cones, ...]:
        """By play: what hears of nothing but by one node."""
        every = zip(self.plays, self.states, self.fed)
        return tuple(Cones.of(self.wires, states, fed, play.starts) for play, states, fed in every)

    @cached_property
    def silenced(self) -> dict[tuple[int, int], Shown]:
        """By play and node: what its silent cone shows."""
        return {}

    @cached_property
    def live(self) -> list[int]:
        """By node: the plays that have signal there, as bits."""
        out = [0] * len(self.wires.names)
        for i, states in enumerate(self.states):
            for node in states:
                out[node] |= 1 << i
        return out

    @cached_property
    def lines_only(self) -> int:
        """The plays of the line check, as bits."""
        return sum(1 << i for i, p in enumerate(self.plays) if p.kind == "line")

    @cached_property
    def ends(self) -> dict[int, Range]:
        """What is watched: boxes with their range, recorders and feeds as meters."""
        boxes = {self.wires.index[b]: range_of(self.rig, b) for b in self.rig.boxes if b in self.wires.index}
        nodes = self.rig.net.nodes.items()
        return boxes | {self.wires.index[n]: METER for n, data in nodes if data["kind"] == k.SINK}

    @cached_property
    def lights(self) -> frozenset[int]:
        """Nodes with a signal light or meter: channels, buses, outputs of boxes, sockets of amplifiers."""
        return frozenset(i for i, name in enumerate(self.wires.names) if self._has_light(name))

    def _has_light(self, name: str) -> bool:
        data = self.rig.net.nodes[name]
        if data["kind"] in (k.CHANNEL, k.BUS):
            return True
        unit, port = self.rig.plan.units.get(data["unit"]), data.get("port")
        if unit is None or port is None or unit.family not in LIGHT_FAMILIES or port.name.startswith("link"):
            return False
        return bool(port.direction == ("in" if unit.family in ("amplifier", "processor") else "out"))

    @cached_property
    def behind(self) -> frozenset[int]:
        """Nodes behind a desk's outputs, up to the next desk."""
        todo = [e[1] for e in self.wires.edges if self.rig.net.edge(e)["kind"] == k.LEAVE]
        seen: set[str] = set()
        while todo:
            node = todo.pop()
            if node not in seen:
                seen.add(node)
                todo += [e[1] for e, d in self.rig.edges_out(node) if d["kind"] != k.LISTEN]
        return frozenset(self.wires.index[n] for n in seen)

    def table(self) -> Table:
        """Every fault tried."""
        from rigbook.walk.exchange import exchange_effects

        every = faults(self.rig, self.wires)
        # many faults do the same to the wires: each change is tried once
        changes = tuple({f.change.key: f.change for f in every}.values())
        moved = exchange_effects(self, changes)
        tried = {change.key: self.tried(change, moved.get(i, {})) for i, change in enumerate(changes)}
        rows = tuple(self.row(f, tried[f.change.key]) for f in every)
        return Table(self.rig, self.wires, self.steps, self.lines, self.plays, self.states, rows)

    def tried(self, change: Change, moved: Effects) -> Tried:
        """One change in every play where it can matter; what exchanged cables show of it is given."""
        behind = self._lies_behind(change)
        mask = self._mask(change) & (~self.lines_only if behind else -1)
        effects, reached = dict(moved), frozenset[str]()
        for i in bits(mask):
            more, ways = self.difference(i, change)
            effects |= more
            reached |= ways
        return Tried(effects, behind, mask, reached)

    def row(self, fault: Fault, tried: Tried) -> Row:
        """One fault: what its change does, and what a look shows."""
        effects = {Seen(s.kind, "", s.target): s.shows for s in fault.sights} | tried.effects
        shows = any(s.kind in HEARD for s in effects)
        return Row(fault, effects, tried.behind, "" if shows else self._reason(fault, tried.mask, tried.reached))

    def difference(self, number: int, change: Change) -> Shown:
        """What is heard and seen in a play with a change made."""
        found = self.changed(number, change)
        if not found.silent and not found.turned:
            return self._shown(number, found.new)
        if found.mixed or self.plays[number].pairs:
            return self._shown(number, differing(found.new, self.states[number]))
        cones, left, shown = self.cones[number], set(found.new), NOTHING
        for node in found.silent:
            left -= cones.silent(node).states.keys()
            shown = _both(shown, self._silenced(number, node))
        for node in found.turned:
            inside = cones.turned(node).states.keys()
            left -= inside
            shown = shown if self.ends.keys().isdisjoint(inside) else _both(shown, TURNED)
        return _both(self._shown(number, {n: found.new[n] for n in left}), shown)

    def changed(self, number: int, change: Change) -> Difference:
        """A change made in a play."""
        base, fed, cones = self.states[number], self.fed[number], self.cones[number]
        return changed(self.wires, self.plays[number], base, fed, cones, change)

    def _silenced(self, number: int, node: int) -> Shown:
        found = self.silenced.get((number, node))
        if found is None:
            states = self.cones[number].silent(node).states
            found = self.silenced[number, node] = self._shown(number, states)
        return found

    def _shown(self, number: int, new: States) -> Shown:
        return (self.effects(number, new), self.unheard(number, new)) if new else NOTHING

    def _is_effect(self, change: Change) -> bool:
        ends = {n for i in change.replaced for n in self.wires.wires[i][:2]}
        data = (self.rig.net.nodes[self.wires.names[n]] for n in ends)
        return any(d["kind"] == k.BUS and d["bus"].role == "effects" for d in data)

    def _mask(self, change: Change) -> int:
        mask = 0
        for wire in change.added:
            mask |= self.live[wire.tail]
        for number in change.replaced:
            mask |= self.live[self.wires.wires[number].tail]
        return mask

    def _lies_behind(self, change: Change) -> bool:
        touched = [*change.added, *(self.wires.wires[i] for i in change.replaced)]
        return all(w.tail in self.behind or (w.gate == "bus" and w.head in self.behind) for w in touched)

    def effects(self, number: int, new: States) -> Effects:
        """What is heard and seen in a play where these nodes are not as planned."""
        play, base, names = self.plays[number], self.states[number], self.wires.names
        out: Effects = {}
        kind = FADER if play.down else HEAR
        for node, state in new.items():
            box = self.ends.get(node) or (METER if node in play.also else None)
            if box is not None:
                found = judge(state, base.get(node, SILENCE), box, play.coarse or box is METER)
                if found and not (play.down and found == HUMS):  # with the fader down only silence is asked for
                    out[Seen(kind, play.step, names[node])] = found
            elif (
                node in self.lights
                and not play.down
                and play.kind != "together"
                and bool(state) != bool(base.get(node))
            ):
                out[Seen(LIGHT, play.step, names[node])] = LIT if state else DARK
        for pair in play.pairs:
            found = self._pair(pair.a, pair.b, pair.low_hz, new, base)
            if found:
                out[Seen(PAIR, play.step, f"{pair.a}|{pair.b}")] = found
        return out

    def _pair(self, a: str, b: str, low_hz: float, new: States, base: States) -> str:
        one, two = self.wires.index[a], self.wires.index[b]
        if one not in new and two not in new:
            return ""
        plan = (base.get(one, SILENCE), base.get(two, SILENCE))
        return judge_pair((new.get(one, plan[0]), new.get(two, plan[1])), plan, low_hz)

    def unheard(self, number: int, new: States) -> frozenset[str]:
        """In what way boxes differ from the plan: `polarity`, `delay`, `sound`."""
        base = self.states[number]
        return frozenset(_differs(s, base.get(n, SILENCE)) for n, s in new.items() if n in self.ends)

    def _reason(self, fault: Fault, mask: int, reached: frozenset[str]) -> str:
        if not mask:
            return phrase("no step plays anything through it")
        if fault.kind == SWITCHED_OUT:
            return phrase(
                "all sounds as ever, but unprocessed: turn the output of what is inserted down, the sound must follow"
            )
        if self._is_effect(fault.change):
            return phrase("an effect only adds to the sound: listen to its bus alone on headphones")
        if reached == {"polarity"}:
            return phrase(
                "nobody hears the polarity of one box alone, and no other box plays the same beside it: "
                "use a polarity tester"
            )
        if reached and reached <= {"polarity", "delay"}:
            return phrase("the shift is too small to be heard against another box: measure it")
        if reached:
            return phrase("changes what is heard by less than most people notice: look at it")
        return phrase("both ways carry the same signal, so nothing changes: only the labels show it")


def _differs(now: State, plan: State) -> str:
    if [p[0] for p in now] != [p[0] for p in plan] or [p[3] for p in now] != [p[3] for p in plan]:
        return "sound"
    return "polarity" if [p[2] for p in now] == [p[2] for p in plan] else "delay"


def trial(rig: Rig) -> Trial:
    """The rig made ready: its wires, its steps, and what is where as planned."""
    wires = Wires.of(rig)
    every, lines = steps(rig), line_check(rig)
    played = plays(rig, wires, every, lines)
    return Trial(rig, wires, every, lines, played, tuple(planned(wires, p) for p in played))


def bits(mask: int) -> Sequence[int]:
    """The places of the set bits, lowest first."""
    out = []
    while mask:
        low = mask & -mask
        out.append(low.bit_length() - 1)
        mask ^= low
    return out
