"""What may be wrong on the desk's outputs: not patched, exchanged, taken before the fader, filters, delay, polarity,
left and right summed, a mono feed taken from one side.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from types import MappingProxyType
from typing import Any, Final, NamedTuple

from rigbook.graph import kinds as k
from rigbook.graph.kinds import bus_node
from rigbook.graph.words import PICKS
from rigbook.plan.model import Bus, Output
from rigbook.text.phrase import phrase
from rigbook.walk.fault import Bench, Fault, Sight, Thing, crossed, cut, port_order, turn
from rigbook.walk.setting_faults import setting_faults
from rigbook.walk.step import name_of
from rigbook.walk.wires import Change


class Way(NamedTuple):
    """One leg leaving by one socket."""

    number: int
    output: Output
    socket: str


def desk_faults(bench: Bench) -> Iterator[Fault]:
    """Every fault of every output of every desk."""
    ways = [Way(i, _output(data), edge[1]) for i, edge, data in bench.of_kind(k.LEAVE)]
    by_socket: dict[tuple[str, str], list[Way]] = {}
    for way in ways:
        by_socket.setdefault((_name(bench, way.output), way.socket), []).append(way)
    for (name, socket), group in by_socket.items():
        yield _not_patched(bench, name, socket, group)
        yield _pick(bench, name, socket, group)
        yield _polarity(bench, name, socket, group)
    yield from _exchanged(bench, by_socket)
    yield from _processing(bench, ways)
    yield from _summed(bench, ways)
    yield from _one_side(bench, by_socket)


def _output(data: dict[str, Any]) -> Output:
    output = data["output"]
    assert isinstance(output, Output)
    return output


def _name(bench: Bench, output: Output) -> str:
    return name_of(bench.rig, output.desk, output.name)


def _fault(
    key: str,
    kind: str,
    words: str,
    check: str,
    things: tuple[Thing, ...],
    odds: float,
    change: Change,
    look: str,
    shows: str,
) -> Fault:
    return Fault(key, kind, words, check, things, "", 1.0, odds, change, (Sight("setting", look, shows),))


def _things(name: str, *sockets: str) -> tuple[Thing, ...]:
    return (Thing("output", name), *(Thing("socket", s) for s in sockets))


def _not_patched(bench: Bench, name: str, socket: str, ways: list[Way]) -> Fault:
    words = phrase("the output `%(name)s` is not patched to `%(socket)s`, or is muted", name=name, socket=socket)
    check = phrase("look at the desk's output patch: `%(socket)s` must carry `%(name)s`", socket=socket, name=name)
    change = cut(*(w.number for w in ways))
    return _fault(
        f"unpatched {name} {socket}",
        "output not patched",
        words,
        check,
        _things(name, socket),
        3.0,
        change,
        f"output|{name}",
        "not patched",
    )


def _pick(bench: Bench, name: str, socket: str, ways: list[Way]) -> Fault:
    wires = bench.wires.wires
    wrong = "pre" if ways[0].output.pick == "post" else "post"
    words = phrase("the output `%(name)s` at `%(socket)s` is taken after the fader", name=name, socket=socket)
    if wrong == "pre":
        words = phrase("the output `%(name)s` at `%(socket)s` is taken before the fader", name=name, socket=socket)
    pick = PICKS[ways[0].output.pick]
    check = phrase("look at the pick-off of `%(socket)s` on the desk: it must be %(pick)s", socket=socket, pick=pick)
    change = Change({w.number: wires[w.number]._replace(pick=wrong) for w in ways})
    return _fault(
        f"pick-off {name} {socket}",
        "pick-off wrong",
        words,
        check,
        _things(name, socket),
        2.0,
        change,
        f"output|{name}",
        "pick-off wrong",
    )


def _polarity(bench: Bench, name: str, socket: str, ways: list[Way]) -> Fault:
    words = phrase(
        "the polarity of the output `%(name)s` at `%(socket)s` is reversed on the desk", name=name, socket=socket
    )
    check = phrase("look at the polarity of `%(name)s` on the desk: it must be normal", name=name)
    if ways[0].output.processing.reversed:
        words = phrase(
            "the polarity of the output `%(name)s` at `%(socket)s` is normal on the desk", name=name, socket=socket
        )
        check = phrase("look at the polarity of `%(name)s` on the desk: it must be reversed", name=name)
    change = turn(bench.wires, *(w.number for w in ways))
    return _fault(
        f"polarity {name} {socket}",
        "output polarity reversed",
        words,
        check,
        _things(name, socket),
        1.0,
        change,
        f"output|{name}",
        "polarity wrong",
    )


def _exchanged(bench: Bench, by_socket: dict[tuple[str, str], list[Way]]) -> Iterator[Fault]:
    """Outputs on neighbouring sockets, and the two legs of a bus, with their sockets exchanged."""
    rows: dict[str, list[tuple[str, str]]] = {}
    for name, socket in by_socket:
        rows.setdefault(socket.partition("/")[0], []).append((name, socket))
    pairs: dict[frozenset[str], tuple[tuple[str, str], tuple[str, str]]] = {}
    for row in rows.values():
        row.sort(key=lambda item: port_order(item[1]))
        pairs |= {frozenset((a[1], b[1])): (a, b) for a, b in itertools.pairwise(row)}
    for key, ways in by_socket.items():
        pairs |= {
            frozenset((key[1], other[1])): (key, other)
            for other, theirs in by_socket.items()
            if _is_pair(ways[0].output, theirs[0].output)
        }
    for a, b in pairs.values():
        one, two = by_socket[a], by_socket[b]
        if a[0] != b[0] and len(one) == len(two) == 1:
            yield _exchange(bench, a, b, one[0].number, two[0].number)


def _is_pair(a: Output, b: Output) -> bool:
    return (a.desk, a.bus) == (b.desk, b.bus) and (a.leg, b.leg) == ("left", "right")


def _exchange(bench: Bench, a: tuple[str, str], b: tuple[str, str], one: int, two: int) -> Fault:
    words = phrase(
        "the outputs `%(one)s` and `%(two)s` are exchanged in the desk's patch (`%(socket)s` and `%(other)s`)",
        one=a[0],
        two=b[0],
        socket=a[1],
        other=b[1],
    )
    check = phrase(
        "look at the desk's output patch: `%(socket)s` must carry `%(one)s`, `%(other)s` must carry `%(two)s`",
        socket=a[1],
        one=a[0],
        other=b[1],
        two=b[0],
    )
    things = (*_things(a[0], a[1]), *_things(b[0], b[1]))
    shown = "exchanged"
    return Fault(
        f"exchanged {a[0]} {a[1]} and {b[0]} {b[1]}",
        "outputs exchanged",
        words,
        check,
        things,
        "",
        1.0,
        4.0,
        crossed(bench.wires, one, two),
        (Sight("setting", f"output|{a[0]}", shown), Sight("setting", f"output|{b[0]}", shown)),
    )


def _processing(bench: Bench, ways: list[Way]) -> Iterator[Fault]:
    """Filters and delay of the bus and of the output."""
    done: set[str] = set()
    for way in ways:
        bus = bench.rig.plan.buses[way.output.desk, way.output.bus]
        for sort, name, of, mine in (
            (
                "bus",
                name_of(bench.rig, bus.desk, bus.name),
                bus.processing,
                [w for w in ways if _bus_of(w) == _bus_of(way)],
            ),
            ("output", _name(bench, way.output), way.output.processing, [w for w in ways if w.output is way.output]),
        ):
            if f"{sort} {name}" not in done:
                done.add(f"{sort} {name}")
                yield from setting_faults(bench, [w.number for w in mine], of, Thing(sort, name), 1.0)


def _bus_of(way: Way) -> tuple[str, str]:
    return way.output.desk, way.output.bus


ONE_SIDE: Final = MappingProxyType(
    {
        "left": phrase("the mono feed `%(name)s` at `%(socket)s` carries the left side only"),
        "right": phrase("the mono feed `%(name)s` at `%(socket)s` carries the right side only"),
    }
)


def _summed(bench: Bench, ways: list[Way]) -> Iterator[Fault]:
    """A stereo bus set to mono: both legs at each of its outputs."""
    for bus in bench.rig.plan.buses.values():
        mine = [w for w in ways if _bus_of(w) == (bus.desk, bus.name) and w.output.leg in ("left", "right")]
        if not bus.stereo or len({w.output.leg for w in mine}) < 2:
            continue
        name = name_of(bench.rig, bus.desk, bus.name)
        added = tuple(bench.wires.wires[w.number]._replace(tail=_other(bench, bus, w)) for w in mine)
        things = (Thing("bus", name), *(Thing("socket", w.socket) for w in mine))
        yield _fault(
            f"summed {name}",
            phrase("left and right summed"),
            phrase("left and right of `%(name)s` are summed to mono on the desk", name=name),
            phrase("look for a mono switch on the master of `%(name)s`", name=name),
            things,
            2.0,
            Change({}, added),
            f"bus|{name}",
            "mono",
        )


def _other(bench: Bench, bus: Bus, way: Way) -> int:
    leg = "right" if way.output.leg == "left" else "left"
    return bench.wires.index[bus_node(bus.desk, bus.name, leg)]


def _one_side(bench: Bench, by_socket: dict[tuple[str, str], list[Way]]) -> Iterator[Fault]:
    """A mono feed of a stereo bus that carries one side only."""
    for (name, socket), ways in by_socket.items():
        if ways[0].output.leg != "mono" or len(ways) != 2:
            continue
        for kept, lost in ((ways[0], ways[1]), (ways[1], ways[0])):
            leg = bench.wires.edges[kept.number][0].rpartition(" ")[2]
            yield _fault(
                f"mono feed {name} {socket} {leg}",
                "mono feed from one side",
                phrase(ONE_SIDE[leg], name=name, socket=socket),
                phrase(
                    "look at the source of `%(socket)s` on the desk: it must be the sum of both sides", socket=socket
                ),
                _things(name, socket),
                2.0,
                cut(lost.number),
                f"output|{name}",
                f"only {leg}",
            )
