"""What may be wrong with amplifiers, processors and speakers: dead, muted, turned down, wrong mode, wrong settings."""

from __future__ import annotations

from collections.abc import Iterator

from rigbook.graph import kinds as k
from rigbook.graph.rig import Edge
from rigbook.language.record import Record
from rigbook.plan.model import Unit
from rigbook.plan.processing import processing
from rigbook.text.phrase import phrase
from rigbook.walk.fault import OFF_DB, RIGHT, Bench, Fault, Sight, Thing, cut, turn
from rigbook.walk.setting_faults import setting_faults
from rigbook.walk.wires import Change, Wire


def unit_faults(bench: Bench) -> Iterator[Fault]:
    """Every fault of every unit behind the desk."""
    inside: dict[str, list[tuple[int, Edge]]] = {}
    for i, edge, _ in bench.of_kind(k.INSIDE):
        inside.setdefault(edge[1], []).append((i, edge))
    sockets: dict[str, list[str]] = {}
    for socket in inside:
        unit = bench.rig.plan.units.get(socket.partition("/")[0])
        if unit is not None and unit.family in ("amplifier", "processor"):
            sockets.setdefault(unit.name, []).append(socket)
    for name, own in sockets.items():
        unit = bench.rig.plan.units[name]
        for socket in own:
            yield from _channel(bench, unit, socket, [i for i, _ in inside[socket]], len(own) == 1)
        if len(own) > 1 or unit.family == "processor":
            yield _off(bench, unit, [i for socket in own for i, _ in inside[socket]])
        yield from _mode(bench, unit)
    yield from _boxes(bench)
    yield from _settings(bench)


def _front(unit: Unit) -> str:
    return f"front|{unit.name}"


def _off(bench: Bench, unit: Unit, numbers: list[int]) -> Fault:
    """The whole unit: every channel that is used falls silent, which no fault of one channel explains."""
    return Fault(
        f"off {unit.name}",
        "unit off",
        phrase("`%(unit)s` is off, or has no mains", unit=unit.name),
        phrase("look at the front of `%(unit)s`: power light, then its mains plug", unit=unit.name),
        (Thing("unit", unit.name),),
        "",
        bench.effort(unit.name),
        4.0,
        cut(*numbers),
        (Sight("setting", _front(unit), "off"),),
    )


def _channel(bench: Bench, unit: Unit, socket: str, numbers: list[int], only: bool) -> Iterator[Fault]:
    """`only`: no other channel of the unit is used, so that it shows no otherwise than the whole unit."""
    port, effort = socket.partition("/")[2], bench.effort(unit.name)
    things = (Thing("unit", unit.name), Thing("socket", socket))
    words = phrase("the channel of `%(unit)s` that feeds `%(socket)s` is broken", unit=unit.name, socket=socket)
    check = phrase("put another channel or unit in its place, level down first")
    if unit.family == "amplifier":
        words = phrase(
            "the channel of `%(unit)s` that feeds `%(socket)s` is broken or in protection",
            unit=unit.name,
            socket=socket,
        )
        check = phrase(
            "move the speaker cable from `%(socket)s` to a channel of `%(unit)s` that works, level down first",
            socket=socket,
            unit=unit.name,
        )
    yield Fault(
        f"dead {socket}",
        "dead channel",
        words,
        check,
        things,
        "",
        effort + 2,
        1.0,
        cut(*numbers),
    )
    if unit.family != "amplifier":
        return
    quiet = (
        phrase("`%(unit)s` is off, muted or turned right down at `%(port)s`", unit=unit.name, port=port)
        if only
        else phrase("`%(unit)s` is muted or turned right down at `%(port)s`", unit=unit.name, port=port)
    )
    yield Fault(
        f"muted {socket}",
        "muted amplifier",
        quiet,
        phrase("look at the front of `%(unit)s`: power, mute and level of `%(port)s`", unit=unit.name, port=port),
        things,
        "",
        effort,
        4.0,
        cut(*numbers),
        (Sight("setting", _front(unit), f"muted|{port}"),),
    )
    lower = {i: _down(bench.wires.wires[i]) for i in numbers}
    yield Fault(
        f"turned down {socket}",
        "amplifier turned down",
        phrase("`%(unit)s` is turned down at `%(port)s`", unit=unit.name, port=port),
        phrase("look at the level of `%(port)s` on the front of `%(unit)s`", port=port, unit=unit.name),
        things,
        "",
        effort,
        3.0,
        Change(lower),
        (Sight("setting", _front(unit), f"turned down|{port}"),),
    )


def _down(wire: Wire) -> Wire:
    return wire._replace(gain=wire.gain + OFF_DB)


def _mode(bench: Bench, unit: Unit) -> Iterator[Fault]:
    """Every other position of the mode switch."""
    assert unit.kind is not None
    if not unit.kind.modes:
        return
    now = str(unit.record.get("mode") or next(iter(unit.kind.modes)))
    mine = [i for i, edge, data in bench.of_kind(k.INSIDE) if data.get("unit") is unit]
    for mode, routes in unit.kind.modes.items():
        wanted = {(bench.node(f"{unit.name}/{a}"), bench.node(f"{unit.name}/{b}")) for a, b in routes}
        have = {(bench.wires.wires[i].tail, bench.wires.wires[i].head) for i in mine}
        if mode == now or (not have - wanted and not wanted - have):
            continue
        gone = [i for i in mine if (bench.wires.wires[i].tail, bench.wires.wires[i].head) not in wanted]
        pattern = bench.wires.wires[mine[0]]
        new = tuple(
            pattern._replace(tail=a, head=b)
            for a, b in sorted((a, b) for a, b in wanted - have if a is not None and b is not None)
        )
        yield Fault(
            f"mode {mode} {unit.name}",
            "mode switch wrong",
            phrase("the mode switch of `%(unit)s` is on %(wrong)s, not %(mode)s", unit=unit.name, wrong=mode, mode=now),
            phrase(
                "look at the mode switch of `%(unit)s`: it must be on %(mode)s; change it with the power off only",
                unit=unit.name,
                mode=now,
            ),
            (Thing("unit", unit.name),),
            "",
            bench.effort(unit.name),
            2.0,
            Change(dict.fromkeys(gone), new),
            (Sight("setting", _front(unit), f"mode|{mode}"),),
        )


def _boxes(bench: Bench) -> Iterator[Fault]:
    for i, edge, _data in bench.of_kind(k.SOUND):
        unit = bench.rig.plan.units.get(edge[1])
        if unit is None:
            continue
        things, effort = (Thing("unit", unit.name), Thing("socket", edge[0])), bench.effort(unit.name)
        if unit.family == "powered speaker":
            yield Fault(
                f"off {edge[0]}",
                "powered speaker off",
                phrase("`%(unit)s` is off, or its level is right down", unit=unit.name),
                phrase("look at the back of `%(unit)s`: power light and level", unit=unit.name),
                things,
                "",
                effort,
                4.0,
                cut(i),
                (Sight("setting", f"back|{unit.name}", "off"),),
            )
            yield Fault(
                f"turned down {edge[0]}",
                "powered speaker turned down",
                phrase("the level of `%(unit)s` is turned down", unit=unit.name),
                phrase("look at the level at the back of `%(unit)s`", unit=unit.name),
                things,
                "",
                effort,
                3.0,
                Change({i: _down(bench.wires.wires[i])}),
                (Sight("setting", f"back|{unit.name}", "turned down"),),
            )
        words = phrase("`%(unit)s` is not recording, or broken", unit=unit.name)
        if unit.is_speaker:
            words = phrase("`%(unit)s` is broken", unit=unit.name)
        yield Fault(
            f"dead {edge[0]}",
            "dead speaker" if unit.is_speaker else "dead recorder",
            words,
            phrase("plug the cable of `%(unit)s` into a speaker that works", unit=unit.name),
            things,
            "",
            effort + 3,
            1.0,
            cut(i),
            (Sight("replace", f"box|{unit.name}", RIGHT),),
        )
        if unit.is_speaker:
            yield Fault(
                f"reversed {edge[0]}",
                "speaker wired reversed",
                phrase("`%(unit)s` is wired with its polarity reversed inside", unit=unit.name),
                phrase("test `%(unit)s` with a polarity tester", unit=unit.name),
                things,
                "",
                effort + 5,
                0.5,
                turn(bench.wires, i),
                (Sight("replace", f"box|{unit.name}", RIGHT),),
            )


def _settings(bench: Bench) -> Iterator[Fault]:
    """Processing that the plan sets on sockets of processors, amplifiers and powered speakers."""
    for unit in bench.rig.plan.units.values():
        for entry in unit.record.get("settings", ()):
            name = f"{unit.name}/{entry.name}"
            node = bench.node(name)
            if node is None or not isinstance(entry.value, Record):
                continue
            numbers = [i for i in bench.wires.out[node] if bench.live(i) and not _is_link(bench, i)]
            of = processing(entry.value)
            if numbers:
                yield from setting_faults(bench, numbers, of, Thing("socket", name), bench.effort(unit.name))


def _is_link(bench: Bench, number: int) -> bool:
    return bool(bench.rig.net.edge(bench.wires.edges[number])["kind"] == k.LINK)
