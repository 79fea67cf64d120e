"""What may be wrong before the buses: leads, sockets, phantom power, patch, sends, pan."""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from typing import Any, NamedTuple

from rigbook.graph import kinds as k
from rigbook.graph.rig import Edge, Rig
from rigbook.language.values.sends import Send
from rigbook.plan.model import Channel
from rigbook.walk.fault import RIGHT, Bench, Fault, Sight, Thing, crossed, cut, moved, port_order, turn
from rigbook.walk.step import name_of, several_desks
from rigbook.walk.wires import Change

Sends = list[tuple[int, Edge]]


def input_faults(bench: Bench) -> Iterator[Fault]:
    """Every fault of every channel, its source and its sends."""
    yield from _leads(bench)
    yield from _patch(bench)
    yield from _sends(bench)


def title(rig: Rig, channel: Channel) -> str:
    """`channel 7 Fiddle`, with several desks `channel 7 Fiddle of foh`."""
    return f"channel {channel.number} {channel.name}" + (f" of {channel.desk}" if several_desks(rig) else "")


def _channel(bench: Bench, node: str) -> Channel:
    channel = bench.rig.graph.nodes[node]["channel"]
    assert isinstance(channel, Channel)
    return channel


def _things(rig: Rig, channel: Channel, *sockets: str) -> tuple[Thing, ...]:
    here = Thing("channel", f"{channel.desk} {channel.number}", title(rig, channel))
    return (here, *(Thing("socket", s) for s in sockets))


class Lead(NamedTuple):
    """The lead from a source to a socket."""

    number: int
    name: str
    """What its channel is called."""
    socket: str
    phantom: bool
    """The source needs phantom power."""
    things: tuple[Thing, ...]

    def fault(
        self, key: str, kind: str, words: str, check: str, effort: float, odds: float, change: Change, *looks: Sight
    ) -> Fault:
        """A fault of the lead or its source; a known good source with its own lead goes round them all."""
        other = Sight("replace", f"source|{self.socket}", RIGHT)
        looks = (*looks, other)
        return Fault(f"{key} {self.socket}", kind, words, check, self.things, "", effort, odds, change, looks)


def _leads(bench: Bench) -> Iterator[Fault]:
    """Cables from the sources: open, reversed, in the wrong socket, crossed; and phantom power."""
    row = []
    for i, edge, _ in bench.of_kind(k.PLUG):
        channel = _channel(bench, edge[0])
        phantom = bool(channel.source_kind and channel.source_kind.get("phantom") == "needs")
        things = _things(bench.rig, channel, edge[1])
        lead = Lead(i, title(bench.rig, channel), edge[1], phantom, things)
        row.append(lead)
        yield from _lead(bench, lead)
        yield from _source(lead)
        yield from _wrong_socket(bench, lead)
    row.sort(key=lambda lead: (lead.socket.partition("/")[0], port_order(lead.socket)))
    for one, two in itertools.pairwise(row):
        if one.socket.partition("/")[0] == two.socket.partition("/")[0]:
            yield _crossed(bench, one, two)


def _crossed(bench: Bench, one: Lead, two: Lead) -> Fault:
    return Fault(
        f"crossed leads {one.socket} and {two.socket}",
        "crossed leads",
        f"the leads of `{one.name}` and `{two.name}` are exchanged at `{one.socket}` and `{two.socket}`",
        f"read the labels of the plugs in `{one.socket}` and `{two.socket}`",
        (*one.things, *two.things),
        "",
        2.0,
        4.0,
        crossed(bench.wires, one.number, two.number),
        tuple(Sight("plugs", f"lead|{lead.socket}", "exchanged") for lead in (one, two)),
    )


def _lead(bench: Bench, lead: Lead) -> Iterator[Fault]:
    """The lead itself: open, or its polarity reversed."""
    replace = Sight("replace", f"lead|{lead.socket}", RIGHT)
    yield lead.fault(
        "open lead",
        "open lead",
        f"the lead from the source of `{lead.name}` to `{lead.socket}` is open, or not plugged in",
        f"put a known good cable from the source of `{lead.name}` to `{lead.socket}`",
        3.0,
        6.0,
        cut(lead.number),
        replace,
    )
    yield lead.fault(
        "reversed lead",
        "lead polarity reversed",
        f"pins 2 and 3 are exchanged in the lead of `{lead.name}` at `{lead.socket}`",
        "test the lead with a cable tester",
        5.0,
        0.5,
        turn(bench.wires, lead.number),
        replace,
    )


def _source(lead: Lead) -> Iterator[Fault]:
    """The source: silent, or without the phantom power that it needs."""
    yield lead.fault(
        "dead source",
        "source silent",
        f"the source of `{lead.name}` at `{lead.socket}` is off, muted or broken",
        f"look at the switch of the source of `{lead.name}`, then try another one",
        2.0,
        3.0,
        cut(lead.number),
        Sight("setting", f"source|{lead.name}", "off"),
    )
    if lead.phantom:
        yield lead.fault(
            "no phantom",
            "phantom power off",
            f"48 V phantom power is off at `{lead.name}`, whose source needs it",
            f"look at 48 V of `{lead.name}` on the desk: it must be on; mute the channel before you switch it",
            1.0,
            5.0,
            cut(lead.number),
            Sight("setting", f"input|{lead.name}", "48 V off"),
        )


def _wrong_socket(bench: Bench, lead: Lead) -> Iterator[Fault]:
    """In the next free socket: one fault for each that leads on, one for those that do not."""
    beside = list(bench.free_beside(*lead.socket.split("/", 1)))
    live = {s: n for s in beside if (n := bench.node(s)) is not None and bench.wires.out[n]}
    dead = [s for s in beside if s not in live]
    changes = [((s,), moved(bench.wires, lead.number, head=n)) for s, n in live.items()]
    for others, change in [*changes, *([(tuple(dead), cut(lead.number))] if dead else [])]:
        where = " or ".join(f"`{o}`" for o in others)
        yield lead.fault(
            f"wrong socket {' '.join(others)} for",
            "lead in the wrong socket",
            f"the lead of `{lead.name}` is in {where} instead of `{lead.socket}`",
            f"read the labels of the plugs in `{lead.socket}` and beside it",
            2.0,
            4.0,
            change,
            Sight("plugs", f"lead|{lead.socket}", f"in|{' or '.join(others)}"),
        )


def _patch(bench: Bench) -> Iterator[Fault]:
    """The desk's input patch: neighbours exchanged, or a socket not patched."""
    row: list[tuple[str, int, Channel]] = []
    for i, edge, _ in bench.of_kind(k.LISTEN):
        channel, socket = _channel(bench, edge[1]), edge[0]
        row.append((socket, i, channel))
        name = title(bench.rig, channel)
        yield Fault(
            f"unpatched {socket} {edge[1]}",
            "input not patched",
            f"`{name}` does not listen to `{socket}`, or is muted",
            f"look at the desk's input patch: `{name}` must listen to `{socket}`, mute off, gain up",
            _things(bench.rig, channel, socket),
            "",
            1.0,
            3.0,
            cut(i),
            (Sight("setting", f"input|{name}", "not patched"),),
        )
    row.sort(key=lambda item: (item[2].desk, item[2].number, port_order(item[0])))
    for (one, a, first), (two, b, second) in itertools.pairwise(row):
        if first.desk == second.desk and one != two:
            sides = [_side(bench, i) for i in (a, b)]
            names = dict.fromkeys(title(bench.rig, c) for c in (first, second))
            yield Fault(
                f"exchanged inputs {bench.wires.edges[a][1]} and {bench.wires.edges[b][1]}",
                "inputs exchanged",
                f"{sides[0]} and {sides[1]} have their sockets exchanged in the desk's input patch "
                f"(`{one}` and `{two}`)",
                f"look at the desk's input patch: {sides[0]} must listen to `{one}`",
                (*_things(bench.rig, first, one), *_things(bench.rig, second, two)),
                "",
                1.0,
                3.0,
                crossed(bench.wires, a, b),
                tuple(Sight("setting", f"input|{name}", "exchanged") for name in names),
            )


def _side(bench: Bench, number: int) -> str:
    node = bench.wires.edges[number][1]
    leg = str(bench.rig.graph.nodes[node]["leg"])
    return f"`{title(bench.rig, _channel(bench, node))}` {leg}".rstrip()


def _sends(bench: Bench) -> Iterator[Fault]:
    """Sends closed or with the wrong pick-off; a mono source panned to one side."""
    groups: dict[tuple[str, int], Sends] = {}
    what: dict[int, Any] = {}
    for i, edge, data in bench.of_kind(k.SEND):
        groups.setdefault((_whose(bench, edge[0]), id(data["send"])), []).append((i, edge))
        what[i] = data
    for (whose, _), wires in groups.items():
        data = what[wires[0][0]]
        tail = bench.rig.graph.nodes[wires[0][1][0]]
        channel = tail.get("channel")
        thing = _things(bench.rig, channel)[0] if isinstance(channel, Channel) else Thing("bus", whose)
        yield from _send(bench, whose, data["send"], data["pick"], [i for i, _ in wires], thing)
        if isinstance(channel, Channel) and not channel.stereo and len({e[1] for _, e in wires}) == 2:
            yield from _panned(whose, data["send"].bus, wires, thing)


def _send(
    bench: Bench, whose: str, send: Send, pick: str, numbers: list[int], thing: Thing
) -> Iterator[Fault]:
    """One send, closed or with the wrong pick-off."""
    look, target = f"sends|{whose}", f"{send.bus} {send.leg}".rstrip()
    yield Fault(
        f"send off {whose} to {send.bus} {send.leg}",
        "send closed",
        f"the send of `{whose}` to `{send.bus}` is closed",
        f"look at the send of `{whose}` to `{send.bus}` on the desk",
        (thing,),
        "",
        1.0,
        4.0,
        cut(*numbers),
        (Sight("setting", look, f"closed to|{target}"),),
    )
    wrong = "post" if pick == "pre" else "pre"
    yield Fault(
        f"send pick-off {whose} to {send.bus} {send.leg}",
        "send pick-off wrong",
        f"the send of `{whose}` to `{send.bus}` is {wrong}-fader",
        f"look at the send of `{whose}` to `{send.bus}`: it must be {pick}-fader",
        (thing,),
        "",
        1.0,
        3.0,
        Change({i: bench.wires.wires[i]._replace(pick=wrong) for i in numbers}),
        (Sight("setting", look, f"{wrong}-fader to|{target}"),),
    )


def _panned(whose: str, bus: str, wires: Sends, thing: Thing) -> Iterator[Fault]:
    for i, edge in wires:
        lost = edge[1].rpartition(" ")[2]
        side = "right" if lost == "left" else "left"
        yield Fault(
            f"panned {side} {whose} {bus}",
            "source panned",
            f"`{whose}` is panned hard {side} in `{bus}`",
            f"look at the pan of `{whose}`",
            (thing,),
            "",
            1.0,
            4.0,
            cut(i),
            (Sight("setting", f"sends|{whose}", f"pan {side}"),),
        )


def _whose(bench: Bench, node: str) -> str:
    data = bench.rig.graph.nodes[node]
    if data["kind"] == k.CHANNEL:
        return title(bench.rig, data["channel"])
    return name_of(bench.rig, data["bus"].desk, data["bus"].name)
