"""What may be wrong with amplifiers, processors and speakers: dead, muted, turned down, wrong mode, wrong settings."""

from __future__ import annotations

from collections.abc import Iterator

from rigbook.graph import kinds as k
from rigbook.graph.rig import Edge
from rigbook.language.grammar import Record
from rigbook.plan.model import Unit, processing
from rigbook.walk.desk_faults import setting_faults
from rigbook.walk.fault import OFF_DB, RIGHT, Bench, Fault, Sight, Thing, cut, turn
from rigbook.walk.wires import Change, Wire


def unit_faults(bench: Bench) -> Iterator[Fault]:
    """Every fault of every unit behind the desk."""
    inside: dict[str, list[tuple[int, Edge]]] = {}
    for i, edge, _ in bench.of_kind(k.INSIDE):
        inside.setdefault(edge[1], []).append((i, edge))
    modes: dict[str, None] = {}
    for socket, wires in inside.items():
        unit = bench.rig.plan.units.get(socket.partition("/")[0])
        if unit is not None and unit.family in ("amplifier", "processor"):
            yield from _channel(bench, unit, socket, [i for i, _ in wires])
            modes[unit.name] = None
    for name in modes:
        yield from _mode(bench, bench.rig.plan.units[name])
    yield from _boxes(bench)
    yield from _settings(bench)


def _front(unit: Unit) -> str:
    return f"front|{unit.name}"


def _channel(bench: Bench, unit: Unit, socket: str, numbers: list[int]) -> Iterator[Fault]:
    port, effort = socket.partition("/")[2], bench.effort(unit.name)
    things = (Thing("unit", unit.name), Thing("socket", socket))
    yield Fault(
        f"dead {socket}",
        "dead channel",
        f"the channel of `{unit.name}` that feeds `{socket}` is broken or in protection",
        f"move the speaker cable from `{socket}` to a channel of `{unit.name}` that works, level down first",
        things,
        "",
        effort + 2,
        1.0,
        cut(*numbers),
    )
    if unit.family != "amplifier":
        return
    yield Fault(
        f"muted {socket}",
        "muted amplifier",
        f"`{unit.name}` is off, muted or turned right down at `{port}`",
        f"look at the front of `{unit.name}`: power, mute and level of `{port}`",
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
        f"`{unit.name}` is turned down at `{port}`",
        f"look at the level of `{port}` on the front of `{unit.name}`",
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
            f"the mode switch of `{unit.name}` is on {mode}, not {now}",
            f"look at the mode switch of `{unit.name}`: it must be on {now}; change it with the power off only",
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
                f"`{unit.name}` is off, or its level is right down",
                f"look at the back of `{unit.name}`: power light and level",
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
                f"the level of `{unit.name}` is turned down",
                f"look at the level at the back of `{unit.name}`",
                things,
                "",
                effort,
                3.0,
                Change({i: _down(bench.wires.wires[i])}),
                (Sight("setting", f"back|{unit.name}", "turned down"),),
            )
        what = "broken" if unit.is_speaker else "not recording, or broken"
        yield Fault(
            f"dead {edge[0]}",
            "dead speaker" if unit.is_speaker else "dead recorder",
            f"`{unit.name}` is {what}",
            f"plug the cable of `{unit.name}` into a speaker that works",
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
                f"`{unit.name}` is wired with its polarity reversed inside",
                f"test `{unit.name}` with a polarity tester",
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
    return bool(bench.rig.graph.edges[bench.wires.edges[number]]["kind"] == k.LINK)
