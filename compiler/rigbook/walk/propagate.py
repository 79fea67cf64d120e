"""A signal on its way through the wires: as planned once a play, and with a fault only from the fault on.

What is at a node is a tuple of parts, each (gain in dB, polarity turned, delay in s, filters); no parts is silence.
With a fault, only nodes whose parts differ from the plan are visited: the rest of the rig is never looked at again.
Where a node falls silent, what hears of nothing but by it is silent without a further look; where it is turned in
polarity only, that is turned as well (`cones.py`).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from heapq import heappop, heappush
from math import log10
from typing import NamedTuple

from rigbook.walk.cones import SILENCE, Cones, Fed, Part, State, States, turned
from rigbook.walk.plays import Play
from rigbook.walk.wires import Change, Cut, Wire, Wires


class Difference(NamedTuple):
    """What a change makes of a play."""

    new: States
    """What is at the nodes where it makes a difference."""
    silent: tuple[int, ...] = ()
    """Nodes whose cones have fallen silent."""
    turned: tuple[int, ...] = ()
    """Nodes whose cones are as planned but for their polarity."""
    mixed: bool = False
    """Something else has come into a cone."""


NONE: Sequence[int] = ()
NOWHERE: Sequence[Wire] = ()
FULL: State = ((0.0, False, 0.0, ()),)
GONE_DB = -120.0
"""What is below this is nothing."""
ROUNDS = 8
"""A node is worked out at most so often: more happens only where a fault closes a loop."""


def planned(wires: Wires, play: Play, change: Change | None = None) -> States:
    """What is at every node of a play as planned, or with a change made; silent nodes are left out.

    This is the whole way from the start; `changed` finds the same from what is planned, from the change on.
    """
    new: States = dict.fromkeys(play.starts, FULL)
    heads = [*feeding(wires, new), *(w.head for w in (change.added if change else ()) if w.tail in new)]
    _spread(wires, play, {}, {}, change or Change(), new, heads)
    return {n: s for n, s in new.items() if s}


def feeding(wires: Wires, states: States) -> Fed:
    """The wires into each node that carry something: of the hundred into a bus, mostly one."""
    fed: Fed = {}
    for node in states:
        for number in wires.out[node]:
            fed.setdefault(wires.wires[number].head, []).append(number)
    return fed


def changed(wires: Wires, play: Play, base: States, fed: Fed, cones: Cones, change: Change) -> Difference:
    """What is at the nodes where a change makes a difference."""
    heads = [w.head for w in change.added if base.get(w.tail)]
    heads += [wires.wires[i].head for i in change.replaced if base.get(wires.wires[i].tail)]
    if any(wires.rank[w.tail] >= wires.rank[w.head] for w in change.added):
        # a cable that leads back may close a loop, which would keep alive what nothing feeds any more
        heads = _reached(wires, change, heads)
        new = {n: SILENCE for n in heads if n not in play.starts}
        _spread(wires, play, base, fed, change, new, heads)
        return Difference(differing(new, base))
    return _spread(wires, play, base, fed, change, {}, heads, cones)


def differing(new: States, base: States) -> States:
    """Nodes that are not as planned."""
    return {n: s for n, s in new.items() if s != base.get(n, SILENCE)}


def _reached(wires: Wires, change: Change, heads: list[int]) -> list[int]:
    """Every node that can be reached from some nodes, with the change in place."""
    seen = dict.fromkeys(heads)
    todo = list(seen)
    while todo:
        node = todo.pop()
        added = (w.head for w in change.added if w.tail == node)
        for head in (*(wires.wires[w].head for w in wires.out[node]), *added):
            if head not in seen:
                seen[head] = None
                todo.append(head)
    return list(seen)


def _spread(
    wires: Wires,
    play: Play,
    base: States,
    fed: Fed,
    change: Change,
    new: States,
    heads: Sequence[int],
    cones: Cones | None = None,
) -> Difference:
    """Work out nodes in `new`, beginning at `heads`, going on where a node is not what it was."""
    rank, out, table, starts = wires.rank, wires.out, wires.wires, play.starts
    extra: dict[int, list[Wire]] = {}
    onward: dict[int, list[int]] = {}
    for wire in change.added:
        extra.setdefault(wire.head, []).append(wire)
        onward.setdefault(wire.tail, []).append(wire.head)
    also = feeding(wires, {n: s for n, s in new.items() if s and n not in base}) if new else {}
    waiting, rounds = set(heads), dict[int, int]()
    heap = sorted((rank[h], h) for h in waiting)
    silent, opposite, mixed = list[int](), list[int](), False
    last = _last(wires, change) if cones else 0
    while heap:
        place, node = heappop(heap)
        waiting.discard(node)
        if node in starts:
            continue
        numbers = fed.get(node, NONE) if node not in also else [*fed.get(node, NONE), *also[node]]
        state = _at(wires, play, numbers, new, base, change.replaced, extra.get(node, NOWHERE) if extra else NOWHERE)
        if state == new.get(node, base.get(node, SILENCE)):
            continue
        ahead: Sequence[int] = ()
        if cones and node in base and node not in new:
            if not state:
                silent.append(node)
                found, ahead = cones.silent(node)
                new |= found
            elif place > last and state[0][1] != base[node][0][1] and state == turned(base[node]):
                opposite.append(node)
                found, ahead = cones.turned(node)
                new |= found
        if not ahead and (node not in new or new[node] != state):
            times = rounds[node] = rounds.get(node, 0) + 1
            if times > ROUNDS:
                continue
            mixed = mixed or node in new
            new[node] = state
            for number in out[node] if times == 1 and node not in base else ():
                also.setdefault(table[number].head, []).append(number)
            ahead = [table[number].head for number in out[node]]
        if onward and node in onward:
            ahead = [*ahead, *onward[node]]
        for head in ahead:
            if head not in waiting:
                waiting.add(head)
                heappush(heap, (rank[head], head))
    return Difference(new, tuple(silent), tuple(opposite), mixed)


def _last(wires: Wires, change: Change) -> int:
    """The rank after which no wire of a change begins any more."""
    tails = [w.tail for w in change.added] + [wires.wires[i].tail for i in change.replaced]
    return max([wires.rank[t] for t in tails], default=-1)


def _at(
    wires: Wires,
    play: Play,
    numbers: Sequence[int],
    new: States,
    base: States,
    replaced: Mapping[int, Wire | None],
    extra: Sequence[Wire],
) -> State:
    """What arrives at a node by these of its wires, and by those that a change adds."""
    parts: list[Part] = []
    for number in numbers:
        wire = replaced[number] if number in replaced else wires.wires[number]
        if wire is not None and number not in play.closed:
            parts += through(wire, play, new[wire.tail] if wire.tail in new else base.get(wire.tail, SILENCE))
    for wire in extra:
        parts += through(wire, play, new[wire.tail] if wire.tail in new else base.get(wire.tail, SILENCE))
    return joined(parts) if len(parts) > 1 else tuple(parts)


def through(wire: Wire, play: Play, state: State) -> State:
    """What a wire passes on of what is at its tail; nothing past a closed fader."""
    if not state:
        return state
    gate = wire.gate
    if gate and (wire.tail not in play.opened or (play.down == gate and wire.pick == "post")):
        return SILENCE
    if not (wire.gain or wire.flip or wire.delay or wire.cuts):
        return state
    return tuple(
        (
            gain + wire.gain,
            flip != wire.flip,
            round(delay + wire.delay, 7),
            tuple(sorted((*cuts, *wire.cuts))) if wire.cuts else cuts,
        )
        for gain, flip, delay, cuts in state
    )


def joined(parts: list[Part]) -> State:
    """Parts that differ in level and polarity only become one; what cancels is gone."""
    sums: dict[tuple[float, tuple[Cut, ...]], float] = {}
    for gain, flip, delay, cuts in parts:
        sums[delay, cuts] = sums.get((delay, cuts), 0.0) + (-1 if flip else 1) * 10 ** (gain / 20)
    out = []
    for (delay, cuts), amount in sums.items():
        if abs(amount) > 10 ** (GONE_DB / 20):
            out.append((round(20 * log10(abs(amount)), 3), amount < 0, delay, cuts))
    return tuple(sorted(out))
