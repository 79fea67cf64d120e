"""A probe that needs no spare parts: two like cables exchanged at one end, to see whether the fault moves with them.

What stays silent when another line feeds it is broken itself; what falls silent when the suspected line feeds it tells
that the fault lies before. Nothing of that is written down here: the exchange is one more change to the wires, and
what is heard follows by propagation, with each fault put in.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator

from rigbook.plan.model import Cable
from rigbook.records import frozen
from rigbook.walk.cones import SILENCE, States
from rigbook.walk.fault import Bench, connector, port_order
from rigbook.walk.hear import judge
from rigbook.walk.sounding import built_for
from rigbook.walk.table import EXCHANGE, Seen
from rigbook.walk.trial import Trial
from rigbook.walk.wires import Change, Wire, Wires


@frozen
class Exchange:
    """Two cables, the unit at which their plugs are exchanged, the play, and the box to listen at."""

    seen: Seen
    a: int
    b: int
    at_start: bool
    play: int
    box: int
    states: States
    """What is where with the cables exchanged and nothing wrong."""


Effects = dict[int, dict[Seen, str]]


def exchange_effects(trial: Trial, changes: tuple[Change, ...]) -> Effects:
    """What each change, by its number, makes of each exchange."""
    out: Effects = {}
    by_tail = _by_tail(trial.wires, changes)
    for exchange in exchanges(trial):
        for number in sorted({i for n in _before(trial, exchange) for i in by_tail.get(n, ())}):
            found = _outcome(trial, exchange, changes[number])
            if found:
                out.setdefault(number, {})[exchange.seen] = found
    return out


def _before(trial: Trial, exchange: Exchange) -> set[int]:
    """Nodes that something comes from to the box, with the cables exchanged, and where the two cables began."""
    change = exchanged(trial.wires, Change(), exchange.a, exchange.b, exchange.at_start)
    base = trial.states[exchange.play]
    seen: set[int] = set()
    todo = [exchange.box]
    while todo:
        node = todo.pop()
        if node not in seen and exchange.states.get(node, base.get(node)):
            seen.add(node)
            todo += [trial.wires.wires[i].tail for i in trial.wires.into[node] if i not in change.replaced]
            todo += [wire.tail for wire in change.added if wire.head == node]
    return seen | {trial.wires.wires[i].tail for i in (exchange.a, exchange.b)}


def _by_tail(wires: Wires, changes: tuple[Change, ...]) -> dict[int, list[int]]:
    """Changes by the nodes that their wires begin at."""
    out: dict[int, list[int]] = {}
    for i, change in enumerate(changes):
        for tail in {w.tail for w in change.added} | {wires.wires[n].tail for n in change.replaced}:
            out.setdefault(tail, []).append(i)
    return out


def _outcome(trial: Trial, exchange: Exchange, change: Change) -> str:
    """What is wrong at the box with a fault in and the cables exchanged; empty where it sounds as it must then."""
    both = exchanged(trial.wires, change, exchange.a, exchange.b, exchange.at_start)
    now = _heard(trial, exchange.play, both)
    base = trial.states[exchange.play].get(exchange.box, SILENCE)
    plan = exchange.states.get(exchange.box, base)
    return judge(now.get(exchange.box, base), plan, trial.ends[exchange.box], coarse=False)


def _heard(trial: Trial, play: int, change: Change) -> States:
    return trial.changed(play, change).new


def exchanges(trial: Trial) -> Iterator[Exchange]:
    """Every cable behind a desk with a like one beside it, at either end, in the first step that it plays in."""
    bench = Bench(trial.rig, trial.wires)
    for at_start in (True, False):
        rows: dict[tuple[str, str, str], list[tuple[Cable, int]]] = {}
        for cable, number in bench.cables:
            if trial.wires.wires[number].tail in trial.behind:
                here = cable.start if at_start else cable.end
                types = (connector(bench.rig, cable.start), connector(bench.rig, cable.end))
                rows.setdefault((here.unit, *types), []).append((cable, number))
        for (unit, *_), row in rows.items():
            row.sort(key=lambda c: port_order((c[0].start if at_start else c[0].end).port))
            for i, one in enumerate(row):
                beside = (*row[i + 1 : i + 2], *row[max(i - 1, 0) : i])
                made = (e for two in beside if (e := _exchange(trial, unit, one, two, at_start)))
                yield from itertools.islice(made, 1)


def _exchange(
    trial: Trial, unit: str, x: tuple[Cable, int], y: tuple[Cable, int], at_start: bool
) -> Exchange | None:
    """Feed what hangs on the second cable by the line of the first, where the boxes of both are alike."""
    tail = trial.wires.wires[x[1]].tail
    alone = (i for i, p in enumerate(trial.plays) if p.kind == "leg" and not p.down)
    play = next((i for i in alone if tail in trial.states[i]), -1)
    ours, theirs = _boxes(trial, x[0]), _boxes(trial, y[0])
    if play < 0 or not ours or not theirs or built_for(trial.rig, ours[0]) != built_for(trial.rig, theirs[0]):
        return None
    states = _heard(trial, play, exchanged(trial.wires, Change(), x[1], y[1], at_start))
    base = trial.states[play]
    box = next((b for b in theirs if states.get(n := trial.wires.index[b], base.get(n))), "")
    if not box:
        return None
    seen = Seen(EXCHANGE, trial.plays[play].step, "|".join((x[0].name, y[0].name, unit, box)))
    return Exchange(seen, x[1], y[1], at_start, play, trial.wires.index[box], states)


def _boxes(trial: Trial, cable: Cable) -> list[str]:
    return [b for b in trial.rig.boxes_of(cable.end.id) if trial.wires.index.get(b) in trial.ends]


def exchanged(wires: Wires, change: Change, a: int, b: int, at_start: bool) -> Change:
    """A change, and after it two cables exchanged at one end, whatever the change has made of them."""
    replaced, added = dict(change.replaced), list(change.added)
    gone = [n for n, wire in replaced.items() if wire is None]
    # a cable in the wrong socket is cut where it was and added where it lies, in the same order
    elsewhere = dict(zip(gone, change.added)) if len(gone) == len(change.added) else {}
    one, two = (elsewhere.get(n) or replaced.get(n) or wires.wires[n] for n in (a, b))
    dead = [n in replaced and replaced[n] is None and n not in elsewhere for n in (a, b)]
    for number in (a, b):
        if number in elsewhere:
            added.remove(elsewhere[number])
        replaced[number] = None
    pair: tuple[Wire, Wire]
    if at_start:
        pair = (one._replace(tail=two.tail), two._replace(tail=one.tail))
    else:
        pair = (one._replace(head=two.head), two._replace(head=one.head))
    return Change(replaced, (*added, *(wire for wire, cut in zip(pair, dead) if not cut)))
