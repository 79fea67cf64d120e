"""What may be wrong before the buses: leads, sockets, phantom power, patch."""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from typing import NamedTuple

from rigbook.graph import kinds as k
from rigbook.graph.rig import Rig
from rigbook.graph.words import side
from rigbook.plan.model import Channel
from rigbook.text.phrase import joined, phrase
from rigbook.walk.fault import RIGHT, Bench, Fault, Sight, Thing, crossed, cut, moved, port_order, turn
from rigbook.walk.step import several_desks
from rigbook.walk.wires import Change


def input_faults(bench: Bench) -> Iterator[Fault]:
    """Every fault of every channel and its source."""
    yield from _leads(bench)
    yield from _patch(bench)


def title(rig: Rig, channel: Channel) -> str:
    """`channel 7 Fiddle`, with several desks `channel 7 Fiddle of foh`."""
    words = phrase("channel %(number)s %(name)s", number=channel.number, name=channel.name)
    return phrase("%(name)s of %(desk)s", name=words, desk=channel.desk) if several_desks(rig) else words


def _channel(bench: Bench, node: str) -> Channel:
    channel = bench.rig.net.nodes[node]["channel"]
    assert isinstance(channel, Channel)
    return channel


def channel_thing(rig: Rig, channel: Channel) -> Thing:
    """A channel as a thing to look at."""
    return Thing("channel", f"{channel.desk} {channel.number}", title(rig, channel))


def _things(rig: Rig, channel: Channel, *sockets: str) -> tuple[Thing, ...]:
    return (channel_thing(rig, channel), *(Thing("socket", s) for s in sockets))


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
        phrase(
            "the leads of `%(one)s` and `%(two)s` are exchanged at `%(socket)s` and `%(other)s`",
            one=one.name,
            two=two.name,
            socket=one.socket,
            other=two.socket,
        ),
        phrase("read the labels of the plugs in `%(socket)s` and `%(other)s`", socket=one.socket, other=two.socket),
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
        phrase(
            "the lead from the source of `%(channel)s` to `%(socket)s` is open, or not plugged in",
            channel=lead.name,
            socket=lead.socket,
        ),
        phrase(
            "put a known good cable from the source of `%(channel)s` to `%(socket)s`",
            channel=lead.name,
            socket=lead.socket,
        ),
        3.0,
        6.0,
        cut(lead.number),
        replace,
    )
    yield lead.fault(
        "reversed lead",
        "lead polarity reversed",
        phrase(
            "pins 2 and 3 are exchanged in the lead of `%(channel)s` at `%(socket)s`",
            channel=lead.name,
            socket=lead.socket,
        ),
        phrase("test the lead with a cable tester"),
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
        phrase(
            "the source of `%(channel)s` at `%(socket)s` is off, muted or broken", channel=lead.name, socket=lead.socket
        ),
        phrase("look at the switch of the source of `%(channel)s`, then try another one", channel=lead.name),
        2.0,
        3.0,
        cut(lead.number),
        Sight("setting", f"source|{lead.name}", "off"),
    )
    if lead.phantom:
        yield lead.fault(
            "no phantom",
            "phantom power off",
            phrase("48 V phantom power is off at `%(channel)s`, whose source needs it", channel=lead.name),
            phrase(
                "look at 48 V of `%(channel)s` on the desk: it must be on; mute the channel before you switch it",
                channel=lead.name,
            ),
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
        where = joined((f"`{o}`" for o in others), " / ")
        yield lead.fault(
            f"wrong socket {' '.join(others)} for",
            "lead in the wrong socket",
            phrase(
                "the lead of `%(channel)s` is in %(wrong)s instead of `%(socket)s`",
                channel=lead.name,
                wrong=where,
                socket=lead.socket,
            ),
            phrase("read the labels of the plugs in `%(socket)s` and beside it", socket=lead.socket),
            2.0,
            4.0,
            change,
            Sight("plugs", f"lead|{lead.socket}", f"in|{' / '.join(others)}"),
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
            phrase("`%(name)s` does not listen to `%(socket)s`, or is muted", name=name, socket=socket),
            phrase(
                "look at the desk's input patch: `%(name)s` must listen to `%(socket)s`, mute off, gain up",
                name=name,
                socket=socket,
            ),
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
                phrase(
                    "%(first)s and %(second)s have their sockets exchanged in the desk's input patch "
                    "(`%(one)s` and `%(two)s`)",
                    first=sides[0],
                    second=sides[1],
                    one=one,
                    two=two,
                ),
                phrase(
                    "look at the desk's input patch: %(channel)s must listen to `%(socket)s`",
                    channel=sides[0],
                    socket=one,
                ),
                (*_things(bench.rig, first, one), *_things(bench.rig, second, two)),
                "",
                1.0,
                3.0,
                crossed(bench.wires, a, b),
                tuple(Sight("setting", f"input|{name}", "exchanged") for name in names),
            )


def _side(bench: Bench, number: int) -> str:
    node = bench.wires.edges[number][1]
    leg = str(bench.rig.net.nodes[node]["leg"])
    return side(joined(("`", title(bench.rig, _channel(bench, node)), "`"), ""), leg)
