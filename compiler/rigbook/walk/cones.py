"""What lies beyond a node and hears of nothing but by it: silent when it is silent, turned when it is turned.

These are the nodes that it dominates. Without loops the nearest dominator of a node is the nearest that all its
neighbours before it share (Cooper, Harvey and Kennedy, A Simple, Fast Dominance Algorithm, 2001).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import NamedTuple

from rigbook.records import field, frozen
from rigbook.walk.wires import Cut, Wires

Part = tuple[float, bool, float, tuple[Cut, ...]]
State = tuple[Part, ...]
States = dict[int, State]
Fed = dict[int, list[int]]
"""By node, the numbers of the wires into it that begin where something is."""
SILENCE: State = ()


class Cone(NamedTuple):
    """A node and all that it dominates, as they then are, and the nodes that a wire leads to from there."""

    states: States
    heads: tuple[int, ...]


@frozen
class Cones:
    """The cones of a play."""

    wires: Wires
    states: States
    """As planned."""
    within: Mapping[int, Sequence[int]]
    """By node: the nodes that it is the nearest dominator of."""
    silent_from: dict[int, Cone] = field(default_factory=dict)
    turned_from: dict[int, Cone] = field(default_factory=dict)

    @staticmethod
    def of(wires: Wires, states: States, fed: Fed, starts: frozenset[int]) -> Cones:
        """Nearest dominators, in the order from sources to boxes."""
        nearest: dict[int, int] = {}
        depth = {-1: 0}
        within: dict[int, list[int]] = {}
        for node in sorted(states, key=wires.rank.__getitem__):
            before = [] if node in starts else [wires.wires[i].tail for i in fed.get(node, ())]
            best = before[0] if before else -1
            for other in before[1:]:
                while best != other:
                    if depth[best] >= depth[other]:
                        best = nearest[best]
                    else:
                        other = nearest[other]
            nearest[node], depth[node] = best, depth[best] + 1
            within.setdefault(best, []).append(node)
        return Cones(wires, states, within)

    def silent(self, node: int) -> Cone:
        """Nothing comes by the node any more."""
        found = self.silent_from.get(node)
        if found is None:
            nodes = self._inside(node)
            found = self.silent_from[node] = Cone(dict.fromkeys(nodes, SILENCE), self._heads(nodes))
        return found

    def turned(self, node: int) -> Cone:
        """All that comes by the node is turned in polarity."""
        found = self.turned_from.get(node)
        if found is None:
            nodes = self._inside(node)
            found = self.turned_from[node] = Cone({n: turned(self.states[n]) for n in nodes}, self._heads(nodes))
        return found

    def _inside(self, node: int) -> list[int]:
        out = [node]
        for inner in out:
            out += self.within.get(inner, ())
        return out

    def _heads(self, nodes: Sequence[int]) -> tuple[int, ...]:
        inside = set(nodes)
        heads = (self.wires.wires[i].head for n in nodes for i in self.wires.out[n])
        return tuple(dict.fromkeys(h for h in heads if h not in inside and h in self.states))


def turned(state: State) -> State:
    """The same with the polarity of every part turned."""
    return tuple(sorted((gain, not flip, delay, cuts) for gain, flip, delay, cuts in state))
