"""A signal on its way through the wires: as planned once a play, and with a fault only from the fault on.

What is at a node is a tuple of parts, each (gain in dB, polarity turned, delay in s, filters); no parts is silence.
With a fault, only nodes whose parts differ from the plan are visited: the rest of the rig is never looked at again.
"""

from __future__ import annotations

from collections.abc import Mapping
from heapq import heappop, heappush
from math import log10

from rigbook.walk.plays import Play
from rigbook.walk.wires import Change, Cut, Wire, Wires

Part = tuple[float, bool, float, tuple[Cut, ...]]
State = tuple[Part, ...]
States = dict[int, State]

SILENCE: State = ()
FULL: State = ((0.0, False, 0.0, ()),)
GONE_DB = -120.0
"""What is below this is nothing."""
ROUNDS = 8
"""A node is worked out at most so often: more happens only where a fault closes a loop."""


def planned(wires: Wires, play: Play) -> States:
    """What is at every node of a play with the rig as planned; silent nodes are left out."""
    new: States = dict.fromkeys(play.starts, FULL)
    _spread(wires, play, {}, Change(), new, [wires.wires[w].head for s in play.starts for w in wires.out[s]])
    return new


def changed(wires: Wires, play: Play, base: States, change: Change) -> States:
    """What is at the nodes where a change makes a difference."""
    heads = [w.head for w in change.added if base.get(w.tail)]
    heads += [wires.wires[i].head for i in change.replaced if base.get(wires.wires[i].tail)]
    new: States = {}
    if any(wires.rank[w.tail] >= wires.rank[w.head] for w in change.added):
        # a cable that leads back may close a loop, which would keep alive what nothing feeds any more
        heads = _beyond(wires, change, heads)
        new = {n: SILENCE for n in heads if n not in play.starts}
    _spread(wires, play, base, change, new, heads)
    return {n: s for n, s in new.items() if s != base.get(n, SILENCE)}


def _beyond(wires: Wires, change: Change, heads: list[int]) -> list[int]:
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


def _spread(wires: Wires, play: Play, base: States, change: Change, new: States, heads: list[int]) -> None:
    """Work out nodes in `new`, beginning at `heads`, going on where a node is not what it was."""
    rank, out, table, replaced = wires.rank, wires.out, wires.wires, change.replaced
    extra: dict[int, list[Wire]] = {}
    beyond: dict[int, list[int]] = {}
    for wire in change.added:
        extra.setdefault(wire.head, []).append(wire)
        beyond.setdefault(wire.tail, []).append(wire.head)
    waiting, rounds = set(heads), dict[int, int]()
    heap = sorted((rank[h], h) for h in waiting)
    while heap:
        node = heappop(heap)[1]
        waiting.discard(node)
        if node in play.starts:
            continue
        state = _at(wires, play, node, new, base, replaced, extra.get(node, ()))
        if state == new.get(node, base.get(node, SILENCE)):
            continue
        rounds[node] = rounds.get(node, 0) + 1
        if rounds[node] > ROUNDS:
            continue
        new[node] = state
        for head in (*(table[w].head for w in out[node]), *beyond.get(node, ())):
            if head not in waiting:
                waiting.add(head)
                heappush(heap, (rank[head], head))


def _at(
    wires: Wires,
    play: Play,
    node: int,
    new: States,
    base: States,
    replaced: Mapping[int, Wire | None],
    extra: list[Wire] | tuple[Wire, ...],
) -> State:
    """What arrives at a node by all its wires."""
    parts: list[Part] = []
    for number in wires.into[node]:
        wire = replaced.get(number, wires.wires[number]) if replaced else wires.wires[number]
        if wire is not None and number not in play.closed:
            parts += through(wire, play, new.get(wire.tail, base.get(wire.tail, SILENCE)))
    for wire in extra:
        parts += through(wire, play, new.get(wire.tail, base.get(wire.tail, SILENCE)))
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
