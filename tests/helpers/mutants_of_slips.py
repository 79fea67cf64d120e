"""Slips of the pen in places, lengths and levels: a height, a tilt, another unit of length, another box's limiter."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from itertools import combinations, pairwise

from helpers.mutants import Edit, Mutant, Show, _made
from helpers.mutants_of_figures import typed, within
from rigbook.compute.figure import value_of
from rigbook.compute.results import results
from rigbook.compute.stock import spans
from rigbook.findings.place import Span
from rigbook.plan.model import Bus, Unit


def _pairs(show: Show) -> Iterator[tuple[Unit, Unit]]:
    """Two boxes for the audience that stand mirrored, and no third like them."""
    got = results(show.rig)
    boxes = [(b.unit, s) for b in got.boxes.audience if (s := got.places.unit(b.name))]
    for (a, here), (b, there) in combinations(boxes, 2):
        alike = [u for u, s in boxes if u.kind is a.kind and abs(abs(s.x) - abs(here.x)) < 1 and abs(s.y - here.y) < 1]
        if a.kind is b.kind and abs(here.x + there.x) < 0.1 and abs(here.y - there.y) < 0.1 and len(alike) == 2:
            yield a, b


def one_of_a_pair(show: Show) -> Iterator[Mutant]:
    """One of two boxes hangs higher, or is tilted the other way."""
    for left, right in _pairs(show):
        higher = within(show, right.record.at("at"), r"([\d.]+) m up", r"1\1 m up")
        size = show.plan.sections["room"].get("size") if show.plan.sections.get("room") else None
        if size is None:
            yield from _made("one much higher", right.name, [higher], "pair-uneven", left.name)
        tilt = right.record.get("tilt")
        if tilt is not None and tilt.degrees <= -5:
            up = typed(show, right.record, "tilt", f"{-tilt.degrees:g} deg up")
            yield from _made("one tilted up", right.name, [up], "pair-uneven", left.name)


def area_in_feet(show: Show) -> Iterator[Mutant]:
    """The corners of an area behind the stage's own, typed in feet."""
    got = results(show.rig)
    for box in got.boxes.audience:
        spot, covers = got.places.unit(box.name), box.unit.record.get("covers", ())
        for area in got.levels.areas:
            own = list(covers) == [area.name] and spot is not None and max(c.y for c in area.corners) * 0.3 < spot.y
            if own and area.record.get("from") is not None and box.helps and got.places.aim(box.unit).turn == 0:
                edits: list[Edit | None] = []
                for key in ("from", "to"):
                    at = area.record.at(key)
                    edits.append(Edit(at, re.sub(r"\bm\b", "ft", show.text(at))))
                yield from _made("area in feet", area.name, edits, "aimed-away", area.name)


def limiter_of_another(show: Show) -> Iterator[Mutant]:
    """The limiter of a larger box, and one whose sign was lost."""
    seen: set[Span] = set()
    for channel in results(show.rig).amp_channels:
        power, rated = value_of(channel.boxes[0].power), channel.boxes[0].continuous_w
        for output in show.plan.outputs:
            bus = show.plan.buses[output.desk, output.bus]
            reached = {b for s, _ in output.sockets for b in show.rig.boxes_of(s.id)}
            record = output.record if output.record.get("limiter") is not None else bus.record
            if channel.boxes[0].box not in reached or record.get("limiter") is None or record.at("limiter") in seen:
                continue
            seen.add(record.at("limiter"))
            low = Edit(record.at("limiter"), "-28 dBu")
            yield from _made("limiter far too low", output.name, [low], "limiter-astray", channel.boxes[0].box)
            if power and rated and power > rated + 1:
                high = Edit(record.at("limiter"), "+16 dBu")
                yield from _made("limiter of another", output.name, [high], "limiter-astray", channel.boxes[0].box)


def mixes_exchanged(show: Show) -> Iterator[Mutant]:
    """Two mono monitor mixes leave by each other's socket, where the boxes say whose they are."""
    mixes: list[tuple[Bus, object, Span, str]] = []
    for output in show.plan.outputs:
        bus = show.plan.buses[output.desk, output.bus]
        socket, span = output.sockets[0]
        boxes = show.rig.boxes_of(socket.id)
        aim = show.plan.units[boxes[0]].aim if len(boxes) == 1 else None
        said = str(bus.record.get("monitor-for", "")).lower().split()
        if bus.role == "monitor" and not bus.stereo and aim is not None and aim.target in said:
            mixes.append((bus, socket, span, boxes[0]))
    for (a, one, first, box), (b, two, second, _) in combinations(mixes, 2):
        edits: list[Edit | None] = [Edit(first, show.text(second)), Edit(second, show.text(first))]
        if a.desk == b.desk and one != two:
            yield from _made("mixes exchanged", f"{a.name}, {b.name}", edits, "monitor-elsewhere", box)


def length_short(show: Show) -> Iterator[Mutant]:
    """A metre where ten were meant."""
    for cable, apart, _ in spans(show.plan, results(show.rig).places):
        if cable in show.single() and cable.length is not None and apart > 3 and cable.length.value > 3:
            edit = within(show, cable.span, rf", {re.escape(str(cable.length))}", ", 1 m")
            checks = "cable-too-short cable-short-of-stock"
            yield from _made("cable too short", cable.name, [edit], checks, cable.name, count=-1)


def sides_turned(show: Show) -> Iterator[Mutant]:
    """A channel named for one side that goes to the other."""
    for channel in show.plan.channels:
        side = channel.name.rpartition(" ")[2].lower()
        sends = [s for s in channel.sends if s.leg]
        if side in ("left", "right") and len(sends) == 1 and sends[0].leg == side:
            other = {"left": "right", "right": "left"}[side]
            edit = within(show, sends[0].span, side, other)
            yield from _made("panned to the other side", channel.name, [edit], "panned-astray", channel.name)


def ears_with_a_microphone(show: Show) -> Iterator[Mutant]:
    """An in-ear transmitter that is listed with a handheld."""
    radio = show.plan.sections.get("radio")
    for entry in radio.get("channels", ()) if radio else ():
        if entry.value.get("transmitter") == "in-ear-transmitter":
            edit = typed(show, entry.value, "transmitter", "radio-handheld")
            yield from _made("ears with a handheld", entry.name, [edit], "wrong-kind", entry.name)


def chain_comes_back(show: Show) -> Iterator[Mutant]:
    """A chain of boxes in which one is named twice, and the next one not at all."""
    for a, b in pairwise(show.plan.cables):
        if a.span == b.span and a.end.unit == b.start.unit and a.end.unit in show.rig.boxes:
            twice = Edit(b.end_span, show.text(a.end_span))
            if show.text(a.end_span) != show.text(b.end_span):
                yield from _made("twice in a chain", b.name, [twice], "cable-twice", a.end.unit)


OPERATORS: tuple[Callable[[Show], Iterator[Mutant]], ...] = (
    one_of_a_pair,
    area_in_feet,
    limiter_of_another,
    mixes_exchanged,
    length_short,
    sides_turned,
    ears_with_a_microphone,
    chain_comes_back,
)
