"""What may be wrong before the buses: leads, sockets, phantom power, patch, sends, pan."""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from typing import Any

from rigbook.graph import kinds as k
from rigbook.graph.rig import Edge
from rigbook.plan.model import Channel
from rigbook.walk.fault import Bench, Fault, Sight, Thing, crossed, cut, moved, port_order, turn
from rigbook.walk.wires import Change


def input_faults(bench: Bench) -> Iterator[Fault]:
    """Every fault of every channel, its source and its sends."""
    yield from _leads(bench)
    yield from _patch(bench)
    yield from _sends(bench)


def _channel(bench: Bench, node: str) -> Channel:
    channel = bench.rig.graph.nodes[node]["channel"]
    assert isinstance(channel, Channel)
    return channel


def title(channel: Channel) -> str:
    """`channel 7 Fiddle`."""
    return f"channel {channel.number} {channel.name}"


def _things(channel: Channel, *sockets: str) -> tuple[Thing, ...]:
    return (Thing("channel", f"{channel.desk} {channel.number}"), *(Thing("socket", s) for s in sockets))


def _leads(bench: Bench) -> Iterator[Fault]:
    """Cables from the sources: open, reversed, in the wrong socket, crossed; and phantom power."""
    row: list[tuple[str, int, Channel]] = []
    for i, edge, _ in bench.of_kind(k.PLUG):
        channel, socket = _channel(bench, edge[0]), edge[1]
        row.append((socket, i, channel))
        yield from _lead(bench, i, channel, socket)
    row.sort(key=lambda item: (item[0].partition("/")[0], port_order(item[0])))
    for (one, a, first), (two, b, second) in itertools.pairwise(row):
        if one.partition("/")[0] == two.partition("/")[0]:
            words = f"the leads of {title(first)} and {title(second)} are exchanged at `{one}` and `{two}`"
            things = (*_things(first, one), *_things(second, two))
            yield Fault(
                f"crossed leads {one} and {two}",
                "crossed leads",
                words,
                f"read the labels of the plugs in `{one}` and `{two}`",
                things,
                "",
                2.0,
                4.0,
                crossed(bench.wires, a, b),
                (Sight("plugs", f"lead in {one}", "exchanged"), Sight("plugs", f"lead in {two}", "exchanged")),
            )


def _lead(bench: Bench, number: int, channel: Channel, socket: str) -> Iterator[Fault]:
    name, things = title(channel), _things(channel, socket)
    replace = (Sight("replace", f"lead in {socket}", "right"), _other_source(socket))
    yield Fault(
        f"open lead {socket}",
        "open lead",
        f"the lead from the source of {name} to `{socket}` is open, or not plugged in",
        f"put a known good cable from the source of {name} to `{socket}`",
        things,
        "",
        3.0,
        6.0,
        cut(number),
        replace,
    )
    yield Fault(
        f"dead source {socket}",
        "source silent",
        f"the source of {name} is off, muted or broken",
        f"look at the switch of the source of {name}, then try another one",
        things,
        "",
        2.0,
        3.0,
        cut(number),
        (Sight("setting", f"source of {name}", "off"), _other_source(socket)),
    )
    yield Fault(
        f"reversed lead {socket}",
        "lead polarity reversed",
        f"pins 2 and 3 are exchanged in the lead of {name}",
        "test the lead with a cable tester",
        things,
        "",
        5.0,
        0.5,
        turn(bench.wires, number),
        replace,
    )
    phantom = channel.source_kind.get("phantom") if channel.source_kind else None
    if phantom == "needs":
        yield Fault(
            f"no phantom {socket}",
            "phantom power off",
            f"48 V phantom power is off at {name}, whose source needs it",
            f"look at 48 V of {name} on the desk: it must be on; mute the channel before you switch it",
            things,
            "",
            1.0,
            5.0,
            cut(number),
            (Sight("setting", f"input of {name}", "48 V off"), _other_source(socket)),
        )
    yield from _wrong_socket(bench, number, channel, socket)


def _wrong_socket(bench: Bench, number: int, channel: Channel, socket: str) -> Iterator[Fault]:
    """In the next free socket: one fault for each that leads on, one for those that do not."""
    beside = list(bench.free_beside(*socket.split("/", 1)))
    live = {s: n for s in beside if (n := bench.node(s)) is not None and bench.wires.out[n]}
    dead = [s for s in beside if s not in live]
    changes = [((s,), moved(bench.wires, number, head=n)) for s, n in live.items()]
    for others, change in [*changes, *([(tuple(dead), cut(number))] if dead else [])]:
        where = " or ".join(f"`{o}`" for o in others)
        yield Fault(
            f"wrong socket {socket} {' '.join(others)}",
            "lead in the wrong socket",
            f"the lead of {title(channel)} is in {where} instead of `{socket}`",
            f"read the labels of the plugs in `{socket}` and beside it",
            _things(channel, socket),
            "",
            2.0,
            4.0,
            change,
            (Sight("plugs", f"lead in {socket}", f"in {' or '.join(others)}"), _other_source(socket)),
        )


def _other_source(socket: str) -> Sight:
    """A known good source with its own lead goes round all that may be wrong before the socket."""
    return Sight("replace", f"source and lead in {socket}", "right")


def _patch(bench: Bench) -> Iterator[Fault]:
    """The desk's input patch: neighbours exchanged, or a socket not patched."""
    row: list[tuple[str, int, Channel]] = []
    for i, edge, _ in bench.of_kind(k.LISTEN):
        channel, socket = _channel(bench, edge[1]), edge[0]
        row.append((socket, i, channel))
        name = title(channel)
        yield Fault(
            f"unpatched {socket} {edge[1]}",
            "input not patched",
            f"{name} does not listen to `{socket}`, or is muted",
            f"look at the desk's input patch: {name} must listen to `{socket}`, mute off, gain up",
            _things(channel, socket),
            "",
            1.0,
            3.0,
            cut(i),
            (Sight("setting", f"input of {name}", "not patched"),),
        )
    row.sort(key=lambda item: (item[2].desk, item[2].number, port_order(item[0])))
    for (one, a, first), (two, b, second) in itertools.pairwise(row):
        if first.desk == second.desk and one != two:
            sides = f"{_side(bench, a)} and {_side(bench, b)}"
            words = f"{sides} have their sockets exchanged in the desk's input patch (`{one}` and `{two}`)"
            yield Fault(
                f"exchanged inputs {bench.wires.edges[a][1]} and {bench.wires.edges[b][1]}",
                "inputs exchanged",
                words,
                f"look at the desk's input patch: {_side(bench, a)} must listen to `{one}`",
                (*_things(first, one), *_things(second, two)),
                "",
                1.0,
                3.0,
                crossed(bench.wires, a, b),
                tuple(dict.fromkeys(Sight("setting", f"input of {title(c)}", "exchanged") for c in (first, second))),
            )


def _side(bench: Bench, number: int) -> str:
    node = bench.wires.edges[number][1]
    channel, leg = _channel(bench, node), str(bench.rig.graph.nodes[node]["leg"])
    return f"{title(channel)} {leg}".rstrip()


def _sends(bench: Bench) -> Iterator[Fault]:
    """Sends closed or with the wrong pick-off; a mono source panned to one side."""
    groups: dict[tuple[str, int], list[tuple[int, Edge, dict[str, Any]]]] = {}
    for i, edge, data in bench.of_kind(k.SEND):
        groups.setdefault((_whose(bench, edge[0]), id(data["send"])), []).append((i, edge, dict(data)))
    for (whose, _), wires in groups.items():
        send, pick = wires[0][2]["send"], wires[0][2]["pick"]
        tail = bench.rig.graph.nodes[wires[0][1][0]]
        channel = tail.get("channel")
        thing = _things(channel)[0] if isinstance(channel, Channel) else Thing("bus", tail["bus"].name)
        look, numbers = f"sends of {whose}", [i for i, _, _ in wires]
        yield Fault(
            f"send off {whose} to {send.bus} {send.leg}",
            "send closed",
            f"the send of {whose} to `{send.bus}` is closed",
            f"look at the send of {whose} to `{send.bus}` on the desk",
            (thing,),
            "",
            1.0,
            4.0,
            cut(*numbers),
            (Sight("setting", look, f"closed to {send.bus} {send.leg}"),),
        )
        wrong = "post" if pick == "pre" else "pre"
        flipped = {i: bench.wires.wires[i]._replace(pick=wrong) for i in numbers}
        yield Fault(
            f"send pick-off {whose} to {send.bus} {send.leg}",
            "send pick-off wrong",
            f"the send of {whose} to `{send.bus}` is {wrong}-fader",
            f"look at the send of {whose} to `{send.bus}`: it must be {pick}-fader",
            (thing,),
            "",
            1.0,
            3.0,
            Change(flipped),
            (Sight("setting", look, f"{wrong}-fader to {send.bus} {send.leg}"),),
        )
        if isinstance(channel, Channel) and not channel.stereo and len({e[1] for _, e, _ in wires}) == 2:
            yield from _panned(whose, send.bus, wires, thing, look)


def _panned(
    whose: str, bus: str, wires: list[tuple[int, Edge, dict[str, Any]]], thing: Thing, look: str
) -> Iterator[Fault]:
    for i, edge, _ in wires:
        lost = edge[1].rpartition(" ")[2]
        side = "right" if lost == "left" else "left"
        yield Fault(
            f"panned {side} {whose} {bus}",
            "source panned",
            f"{whose} is panned hard {side} in `{bus}`",
            f"look at the pan of {whose}",
            (thing,),
            "",
            1.0,
            4.0,
            cut(i),
            (Sight("setting", look, f"pan {side}"),),
        )


def _whose(bench: Bench, node: str) -> str:
    data = bench.rig.graph.nodes[node]
    return title(data["channel"]) if data["kind"] == k.CHANNEL else str(data["bus"].name)
