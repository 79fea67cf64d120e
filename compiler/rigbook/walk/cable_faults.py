"""What may be wrong with a cable: open, one line of several open, crossed with its neighbour, in the wrong socket,
polarity reversed.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator

from rigbook.plan.model import Cable, Socket
from rigbook.text.phrase import joined, phrase
from rigbook.walk.fault import RIGHT, Bench, Fault, Sight, Thing, connector, crossed, cut, moved, port_order, turn

Wired = tuple[Cable, int]


def cable_faults(bench: Bench) -> Iterator[Fault]:
    """Every fault of every cable that carries a signal."""
    lines: dict[str, list[Wired]] = {}
    for cable, number in bench.cables:
        lines.setdefault(cable.sheath, []).append((cable, number))
    for sheath, wired in lines.items():
        if len(wired) > 1:
            yield _whole(bench, sheath, wired)
        for cable, number in wired:
            yield _open(bench, cable, number, of_several=len(wired) > 1)
            yield _reversed(bench, cable, number)
            yield from _wrong_socket(bench, cable, number)
    yield from _crossed(bench)
    yield from _network(bench)


def _things(cable: Cable, *first: Socket) -> tuple[Thing, ...]:
    ends = dict.fromkeys((*first, cable.start, cable.end))
    return (Thing("cable", cable.sheath), *(Thing("socket", s.id) for s in ends))


def _effort(bench: Bench, cable: Cable) -> float:
    return 1 + min(bench.effort(cable.start.unit), bench.effort(cable.end.unit))


def _whole(bench: Bench, sheath: str, wired: list[Wired]) -> Fault:
    cable = wired[0][0]
    return Fault(
        f"open sheath {sheath}",
        "multicore not plugged in",
        phrase("the multicore `%(cable)s` is not plugged in at one end, or broken", cable=sheath),
        phrase(
            "push both ends of the multicore home, at `%(start)s` and at `%(end)s`",
            start=cable.start.unit,
            end=cable.end.unit,
        ),
        (Thing("cable", sheath), Thing("unit", cable.start.unit), Thing("unit", cable.end.unit)),
        bench.label(cable),
        _effort(bench, cable),
        4.0,
        cut(*(n for _, n in wired)),
        (Sight("plugs", f"cable|{sheath}", "loose"), Sight("replace", f"cable|{sheath}", RIGHT)),
    )


def _open(bench: Bench, cable: Cable, number: int, of_several: bool) -> Fault:
    link = cable.start.port.startswith("link")
    kind = "link missing" if link else "line of a multicore open" if of_several else "open cable"
    words = phrase("the cable `%(cable)s` is open, or a plug of it is not home", cable=cable.name)
    if link:
        words = phrase("the link cable `%(cable)s` is open, or a plug of it is not home", cable=cable.name)
    elif of_several:
        words = phrase("the line `%(cable)s` is open, or a plug of it is not home", cable=cable.name)
    sights = (Sight("replace", f"cable|{cable.name if of_several else cable.sheath}", RIGHT),)
    return Fault(
        f"open {cable.name}",
        kind,
        words,
        phrase("put a known good cable from `%(start)s` to `%(end)s`", start=cable.start.id, end=cable.end.id),
        _things(cable),
        bench.label(cable),
        1 + _effort(bench, cable),
        6.0,
        cut(number),
        sights,
    )


def _reversed(bench: Bench, cable: Cable, number: int) -> Fault:
    speaker = _level(bench, cable) == "speaker"
    words = phrase("pins 2 and 3 are exchanged in the cable `%(cable)s`", cable=cable.name)
    if speaker:
        words = phrase("+ and \u2212 are exchanged in the cable `%(cable)s`", cable=cable.name)
    return Fault(
        f"reversed {cable.name}",
        "speaker polarity reversed" if speaker else "signal polarity reversed",
        words,
        phrase(
            "put a known good cable from `%(start)s` to `%(end)s`, or test this one with a cable tester",
            start=cable.start.id,
            end=cable.end.id,
        ),
        _things(cable),
        bench.label(cable),
        2 + _effort(bench, cable),
        1.0,
        turn(bench.wires, number),
        (Sight("replace", f"cable|{cable.sheath}", RIGHT),),
    )


def _level(bench: Bench, cable: Cable) -> str:
    unit = bench.rig.plan.units.get(cable.start.unit)
    port = unit.kind.ports.get(cable.start.port) if unit and unit.kind else None
    return port.level if port else str(cable.kind.get("carries", "line") if cable.kind else "line")


def _wrong_socket(bench: Bench, cable: Cable, number: int) -> Iterator[Fault]:
    """In the next free socket at either end: one fault for each socket that carries on, one for those that do not."""
    for end, is_start in ((cable.start, True), (cable.end, False)):
        free = list(bench.free_beside(end.unit, end.port))
        dead = [s for s in free if not _carries(bench, s, is_start)]
        for socket in (s for s in free if s not in dead):
            node = bench.node(socket)
            change = moved(bench.wires, number, tail=node) if is_start else moved(bench.wires, number, head=node)
            yield _misplugged(bench, cable, end, socket, f"`{socket}`", change)
        if dead:
            where = joined((f"`{s}`" for s in dead), " / ")
            yield _misplugged(bench, cable, end, "beside", where, cut(number))


def _carries(bench: Bench, socket: str, is_start: bool) -> bool:
    node = bench.node(socket)
    return node is not None and bool(bench.wires.into[node] if is_start else bench.wires.out[node])


def _misplugged(bench: Bench, cable: Cable, end: Socket, to: str, where: str, change: object) -> Fault:
    from rigbook.walk.wires import Change

    assert isinstance(change, Change)
    return Fault(
        f"wrong socket {end.id} {to} {cable.name}",
        "wrong socket",
        phrase(
            "the cable `%(cable)s` is plugged into %(wrong)s instead of `%(socket)s`",
            cable=cable.name,
            wrong=where,
            socket=end.id,
        ),
        phrase("read the label of the plug in `%(socket)s` and beside it", socket=end.id),
        _things(cable, end),
        bench.label(cable),
        bench.effort(end.unit),
        4.0,
        change,
        (Sight("plugs", f"cable|{cable.sheath}", f"wrong at|{end.id}"),),
    )


def _crossed(bench: Bench) -> Iterator[Fault]:
    """Neighbours among the plugs of one unit, at either end of the cables."""
    done: set[frozenset[int]] = set()
    for which in (0, 1):
        rows: dict[tuple[str, str, str], list[tuple[Cable, int]]] = {}
        for cable, number in bench.cables:
            sockets = (cable.start, cable.end)
            types = (connector(bench.rig, cable.start), connector(bench.rig, cable.end))
            rows.setdefault((sockets[which].unit, *types), []).append((cable, number))
        for row in rows.values():
            row.sort(key=lambda item: port_order((item[0].start, item[0].end)[which].port))
            for (one, a), (two, b) in itertools.pairwise(row):
                if frozenset((a, b)) not in done and one.end != two.end and one.start != two.start:
                    done.add(frozenset((a, b)))
                    yield _cross(bench, one, a, two, b)


def _cross(bench: Bench, one: Cable, a: int, two: Cable, b: int) -> Fault:
    name = " and ".join(sorted((one.name, two.name)))
    places = []
    if one.start.unit == two.start.unit:
        places.append(phrase("at `%(one)s` and `%(two)s`", one=one.start.id, two=two.start.id))
    if one.end.unit == two.end.unit:
        places.append(phrase("at `%(one)s` and `%(two)s`", one=one.end.id, two=two.end.id))
    where = phrase("%(start)s, or %(end)s", start=places[0], end=places[1]) if len(places) == 2 else places[0]
    near = [s.unit for x in (one, two) for s in (x.start, x.end)]
    return Fault(
        f"crossed {name}",
        "crossed cables",
        phrase(
            "the cables `%(one)s` and `%(two)s` are exchanged, %(places)s",
            one=one.name,
            two=two.name,
            places=where,
        ),
        phrase("read the labels of both plugs %(places)s", places=where),
        (*_things(one), *_things(two)),
        f"{bench.label(one)}; {bench.label(two)}",
        min(bench.effort(u) for u in near),
        5.0,
        crossed(bench.wires, a, b),
        (Sight("plugs", f"cable|{one.sheath}", "exchanged"), Sight("plugs", f"cable|{two.sheath}", "exchanged")),
    )


def _network(bench: Bench) -> Iterator[Fault]:
    """A network cable takes everything that is patched over it."""
    over: dict[str, list[int]] = {}
    for i, edge in enumerate(bench.wires.edges):
        for sheath in bench.rig.net.edge(edge)["via"]:
            if bench.live(i):
                over.setdefault(sheath, []).append(i)
    for cable in bench.rig.carriers.cables:
        if cable.sheath in over:
            yield Fault(
                f"open {cable.name}",
                "network cable open",
                phrase("the network cable `%(cable)s` is not plugged in, or broken", cable=cable.name),
                phrase(
                    "look at the link lights at `%(start)s` and `%(end)s`, then put a known good cable in",
                    start=cable.start.unit,
                    end=cable.end.unit,
                ),
                _things(cable),
                bench.label(cable),
                1.5,
                4.0,
                cut(*over[cable.sheath]),
                (Sight("replace", f"cable|{cable.sheath}", RIGHT), Sight("setting", f"links|{cable.name}", "dark")),
            )
