"""What makes an input hum: a shield with a bad contact, an earth loop by a DI or by the mains of its source.

Common practice: hum that goes when the lead is changed is its shield; hum that stays comes by two earths, and goes with
the ground lift of the DI, or when source and desk are fed from one outlet. No protective earth is ever taken off.
"""

from __future__ import annotations

from collections.abc import Iterator

from rigbook.graph import kinds as k
from rigbook.plan.model import Cable, Channel
from rigbook.text.phrase import Phrase, phrase
from rigbook.walk.fault import RIGHT, Bench, Fault, Sight, Thing
from rigbook.walk.input_faults import channel_thing, title
from rigbook.walk.wires import HUM, Change


def hum_faults(bench: Bench) -> Iterator[Fault]:
    """Every way in which hum comes into the lead of a source, or into a single cable before the desk."""
    for i, edge, _ in bench.of_kind(k.PLUG):
        channel = bench.rig.net.nodes[edge[0]]["channel"]
        assert isinstance(channel, Channel)
        name, socket = title(bench.rig, channel), edge[1]
        things: tuple[Thing, ...] = (channel_thing(bench.rig, channel), Thing("socket", socket))
        yield _shield(bench, i, f"lead|{socket}", things, (
            phrase("the shield of the lead of `%(channel)s` at `%(socket)s` has a bad contact",
                   channel=name, socket=socket),
            phrase("put a known good cable from the source of `%(channel)s` to `%(socket)s`",
                   channel=name, socket=socket)))
        if channel.source_key == "di":
            yield _loop(bench, i, "lift", socket, things, (
                phrase("an earth loop runs by the DI of `%(channel)s` at `%(socket)s`", channel=name, socket=socket),
                phrase("set the ground lift of the DI of `%(channel)s` the other way", channel=name)))
        if channel.source_key in ("di", "line"):
            yield _loop(bench, i, "mains", socket, things, (
                phrase("an earth loop runs by the mains of the source of `%(channel)s` at `%(socket)s`",
                       channel=name, socket=socket),
                phrase("feed the source of `%(channel)s` and what it is plugged into from one outlet; every protective "
                       "earth stays connected", channel=name)))  # fmt: skip
    for cable, i in _before_the_desk(bench):
        things = (Thing("cable", cable.sheath), Thing("socket", cable.start.id), Thing("socket", cable.end.id))
        yield _shield(bench, i, f"cable|{cable.sheath}", things, (
            phrase("the shield of the cable `%(cable)s` has a bad contact", cable=cable.name),
            phrase("put a known good cable from `%(start)s` to `%(end)s`", start=cable.start.id, end=cable.end.id),
        ), bench.label(cable))  # fmt: skip


def _shield(
    bench: Bench, number: int, target: str, things: tuple[Thing, ...], said: tuple[Phrase, Phrase], label: str = ""
) -> Fault:
    words, check = said
    return Fault(
        f"shield {target}",
        "shield with a bad contact",
        words,
        check,
        things,
        label,
        3.0,
        2.0,
        _humming(bench, number),
        (Sight("replace", target, RIGHT),),
    )


def _loop(
    bench: Bench, number: int, sort: str, socket: str, things: tuple[Thing, ...], said: tuple[Phrase, Phrase]
) -> Fault:
    words, check = said
    effort, odds = (1.5, 4.0) if sort == "lift" else (4.0, 2.0)
    look = Sight("replace", f"{sort}|{socket}", RIGHT)
    return Fault(
        f"loop {sort} {socket}", "earth loop", words, check, things, "", effort, odds, _humming(bench, number), (look,)
    )


def _humming(bench: Bench, number: int) -> Change:
    wire = bench.wires.wires[number]
    return Change({number: wire._replace(cuts=tuple(sorted((*wire.cuts, HUM))))})


def _before_the_desk(bench: Bench) -> Iterator[tuple[Cable, int]]:
    """Cables of one line that carry a source to the first desk."""
    lines: dict[str, int] = {}
    for cable, _ in bench.cables:
        lines[cable.sheath] = lines.get(cable.sheath, 0) + 1
    reached, todo = set[str](), [bench.wires.edges[i][1] for i, _, _ in bench.of_kind(k.LEAVE)]
    while todo:
        node = todo.pop()
        if node not in reached:
            reached.add(node)
            todo += [edge[1] for edge, _ in bench.rig.edges_out(node)]
    for cable, number in bench.cables:
        if lines[cable.sheath] == 1 and bench.wires.edges[number][0] not in reached:
            yield cable, number
