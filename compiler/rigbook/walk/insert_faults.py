"""What may be wrong with the insert of a channel or bus on the desk: a way that is not patched, wrong sides, or out.

Cables and outboard units have the faults of any cable and unit. An insert that is in and open is silent: the desk
listens to the return alone. One that is switched out sounds as ever, but unprocessed, which noise and speech do not
tell.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from rigbook.graph import kinds as k
from rigbook.graph.build import inserted, leg_of
from rigbook.graph.rig import Rig
from rigbook.records import replace
from rigbook.text.phrase import phrase
from rigbook.walk.fault import RIGHT, Bench, Fault, Sight, Thing, crossed, cut
from rigbook.walk.input_faults import channel_thing, title
from rigbook.walk.step import name_of
from rigbook.walk.wires import Change, Wire

SWITCHED_OUT = "insert switched out"


def insert_faults(bench: Bench) -> Iterator[Fault]:
    """Every fault of every insert."""
    ways: dict[str, list[tuple[int, int]]] = {}
    for number, edge, _ in bench.of_kind(k.INSERT):
        if bench.rig.net.nodes[edge[0]]["kind"] != k.INSERT_POINT:
            continue
        leg = leg_of(bench.rig.net, edge[0])
        back = next(i for i in bench.wires.into[bench.wires.index[leg]] if _is_return(bench, i))
        ways.setdefault(_whose(bench.rig, leg)[0], []).append((number, back))
    for whose, pairs in ways.items():
        yield from _faults(bench, whose, pairs)


def bypassed(bench: Bench, every: Iterable[Fault]) -> Iterator[Fault]:
    """Faults; those that lie in an insert are gone when it is switched out, which anybody tries first."""
    numbers: dict[str, set[int]] = {}
    for point in (n for n, data in bench.rig.net.nodes.items() if data["kind"] == k.INSERT_POINT):
        leg = leg_of(bench.rig.net, point)
        mine = numbers.setdefault(_whose(bench.rig, leg)[0], set())
        mine |= {bench.wires.number[e] for e in inserted(bench.rig.net, leg)}
    for fault in every:
        whose = next((name for name, mine in numbers.items() if _lies_in(bench, fault, mine)), "")
        more = (Sight("replace", f"insert|{whose}", RIGHT),) if whose else ()
        yield replace(fault, sights=(*fault.sights, *more)) if more else fault


def _lies_in(bench: Bench, fault: Fault, mine: set[int]) -> bool:
    """All that a fault changes lies in an insert, and nothing of it leads elsewhere."""
    heads = {bench.wires.wires[i].head for i in mine}
    change = fault.change
    return fault.kind != SWITCHED_OUT and mine >= change.replaced.keys() and all(w.head in heads for w in change.added)


def _is_return(bench: Bench, number: int) -> bool:
    return bool(bench.rig.net.edge(bench.wires.edges[number])["kind"] == k.INSERT)


def _whose(rig: Rig, leg: str) -> tuple[str, Thing]:
    """What the owner of a leg is called, and itself."""
    data = rig.net.nodes[leg]
    if data["kind"] == k.CHANNEL:
        return title(rig, data["channel"]), channel_thing(rig, data["channel"])
    name = name_of(rig, data["bus"].desk, data["bus"].name)
    return name, Thing("bus", name)


def _faults(bench: Bench, whose: str, pairs: list[tuple[int, int]]) -> Iterator[Fault]:
    wires, edges = bench.wires.wires, bench.wires.edges
    thing = _whose(bench.rig, edges[pairs[0][1]][1])[1]
    for send, back in pairs:
        out, home = edges[send][1], edges[back][0]
        yield _fault(
            f"insert send {out}",
            "insert not patched",
            phrase("the insert of `%(whose)s` does not go out by `%(socket)s`", whose=whose, socket=out),
            phrase("look at the insert of `%(whose)s` on the desk: out by `%(socket)s`", whose=whose, socket=out),
            (thing, Thing("socket", out)),
            cut(send),
            Sight("setting", f"insert|{whose}", "not patched"),
        )
        yield _fault(
            f"insert return {home}",
            "insert not patched",
            phrase("the insert of `%(whose)s` does not come back by `%(socket)s`", whose=whose, socket=home),
            phrase("look at the insert of `%(whose)s` on the desk: back by `%(socket)s`", whose=whose, socket=home),
            (thing, Thing("socket", home)),
            cut(back),
            Sight("setting", f"insert|{whose}", "not patched"),
        )
    if len(pairs) == 2 and edges[pairs[0][0]][1] != edges[pairs[1][0]][1]:
        yield _sides(bench, whose, thing, pairs[0][0], pairs[1][0])
    past = tuple(Wire(wires[send].tail, wires[back].head) for send, back in pairs)
    yield _fault(
        f"insert out {whose}",
        SWITCHED_OUT,
        phrase("the insert of `%(whose)s` is switched out: it sounds, but unprocessed", whose=whose),
        phrase("look at the insert of `%(whose)s` on the desk: it must be in", whose=whose),
        (thing,),
        Change(dict.fromkeys(back for _, back in pairs), past),
        Sight("setting", f"insert|{whose}", "switched out"),
    )


def _sides(bench: Bench, whose: str, thing: Thing, left: int, right: int) -> Fault:
    """The two sides exchanged on the way out."""
    one, two = (bench.wires.edges[i][1] for i in (left, right))
    return _fault(
        f"insert sides {one} and {two}",
        "insert sides exchanged",
        phrase("left and right of `%(whose)s` are exchanged on the way out to its insert", whose=whose),
        phrase(
            "look at the insert of `%(whose)s` on the desk: left out by `%(one)s`, right by `%(two)s`",
            whose=whose,
            one=one,
            two=two,
        ),
        (thing, Thing("socket", one), Thing("socket", two)),
        crossed(bench.wires, left, right),
        Sight("setting", f"insert|{whose}", "exchanged"),
    )


def _fault(
    key: str, kind: str, words: str, check: str, things: tuple[Thing, ...], change: Change, look: Sight
) -> Fault:
    return Fault(key, kind, words, check, things, "", 1.0, 3.0, change, (look,))
