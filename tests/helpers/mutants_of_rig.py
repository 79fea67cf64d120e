"""Single faults of filters, loads, places, stands, circuits and sends, beside those of `mutants_of_figures`."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from itertools import permutations

from helpers.mutants import Edit, Mutant, Show, _made, into
from helpers.mutants_of_figures import _mains_boxes, _units, typed, within
from helpers.mutants_of_text import below
from rigbook.compute.aims import covered, own_points
from rigbook.compute.figure import value_of
from rigbook.compute.results import results
from rigbook.findings.place import Span
from rigbook.language.values.sizes import Size
from rigbook.plan.model import Bus, Unit

CUT = re.compile(r"lr 24 dB/oct")


def _buses(show: Show, *roles: str) -> Iterator[Bus]:
    yield from (b for b in show.plan.buses.values() if b.role in roles)


def filter_wrong(show: Show) -> Iterator[Mutant]:
    """A cut that is missing, doubled, or of another sort than that which it meets."""
    for bus in _buses(show, "mains"):
        none = within(show, bus.span, r"low-cut: [^,}]+(?:, )?", "")
        yield from _made("mains uncut", bus.name, [none], "top-without-low-cut", bus.name)
    for output in show.plan.outputs:
        bus = show.plan.buses[output.desk, output.bus]
        key, cut = next(((k, c) for k in ("low-cut", "high-cut") if (c := bus.record.get(k)) is not None), ("", None))
        socket, span = output.sockets[0]
        if bus.role in ("mains", "subs") and cut is not None and show.text(span) == socket.id:
            edit = Edit(span, f"{{socket: {socket.id}, {key}: {cut.text}}}")
            about = show.rig.boxes_of(socket.id)
            yield from _made("cut twice", output.name, [edit], "filtered-twice", *about, count=-1)
    for bus in _buses(show, "subs"):
        other = within(show, bus.span, CUT.pattern, "butterworth 12 dB/oct")
        yield from _made("slopes apart", bus.name, [other], "slopes-differ polarity-at-crossover", count=-1)


def limiter_lost(show: Show) -> Iterator[Mutant]:
    """No limiter where the amplifier can do harm."""
    for bus in show.plan.buses.values():
        if bus.record.get("limiter") is not None and _can_harm(show, bus):
            edit = within(show, bus.span, r",? ?limiter: [^,}]+", "")
            yield from _made("limiter left out", bus.name, [edit], "limiter-missing", bus.name)


def _can_harm(show: Show, bus: Bus) -> bool:
    """An amplifier behind it gives more than its boxes take for long."""
    mine = {s.id for o in show.plan.outputs if (o.desk, o.bus) == (bus.desk, bus.name) for s, _ in o.sockets}
    boxes = {b for s in mine for b in show.rig.boxes_of(s)}
    driven = [d for c in results(show.rig).amp_channels for d in c.boxes if d.box in boxes]
    return any((value_of(d.power) or 0.0) > (d.continuous_w or 1e9) + 1 for d in driven)


def sub_turned(show: Show) -> Iterator[Mutant]:
    """One of several subs out of polarity with the rest."""
    for unit in _units(show, "powered speaker"):
        if unit.kind is not None and unit.kind.get("box") == "sub":
            edit = into(show, unit.span, "settings: {in: {polarity: reversed}}")
            checks = "sub-polarity-differs polarity-at-crossover"
            yield from _made("one sub turned", unit.name, [edit], checks, unit.name, count=-1)
    for unit in _units(show, "amplifier"):
        outs = [c for c in show.plan.cables if c.start.unit == unit.name and c.start.port.startswith("out ")]
        subs = [c for c in outs if _box(show, c.end.unit) == "sub"]
        if len(subs) > 1 and unit.kind is not None and len(subs) == len(outs):
            last = subs[-1].start.port
            text = f"settings: {{{last}: {{polarity: reversed}}}}"
            plain = within(show, unit.span, re.escape(unit.kind.name), f"{{kind: {unit.kind.name}, {text}}}")
            edit = into(show, unit.span, text) or plain
            checks = "sub-polarity-differs polarity-at-crossover"
            yield from _made("one sub turned", unit.name, [edit], checks, count=-1)


def _box(show: Show, name: str) -> str:
    kind = show.plan.units[name].kind
    return str(kind.get("box", "")) if kind else ""


def channel_loaded(show: Show) -> Iterator[Mutant]:
    """Two more boxes linked to a passive one; a sub linked to a box that is none."""
    for cable in show.single():
        unit = show.plan.units[cable.end.unit]
        alone = show.line(cable.span).lstrip().startswith("- ") and "->" in show.line(cable.span)
        kind = unit.kind
        if unit.family != "speaker" or kind is None or "link" not in kind.ports or not alone or not _placed(unit):
            continue
        file, number = cable.span.file, cable.span.line
        chain = f"    - {unit.name}/link -> more-1\n    - more-1/link -> more-2\n"
        links = Edit(Span(file, number, 0, number, 0), chain)
        boxes = below(show, r"^units:", f"  more-1, more-2: {kind.name}", file)
        # nobody owns the two leads, and the one that is there carries three times the current
        checks = "amp-underload cable-short-of-stock gear-short-of-stock"
        if _least(show, cable.start.id) > _load(show, cable.start.id) / 3 + 0.1:
            yield from _made("three boxes on one output", unit.name, [links, boxes], checks, count=-1)
        if _box(show, unit.name) != "sub":
            link = Edit(Span(file, number, 0, number, 0), f"    - {unit.name}/link -> more-1\n")
            sub = below(show, r"^units:", "  more-1: sub-18", file)
            checks = "mixed-load cable-short-of-stock"
            yield from _made("sub on a top's output", unit.name, [link, sub], checks, count=-1)


def _load(show: Show, socket: str) -> float:
    return next((value_of(c.load) or 0.0 for c in results(show.rig).amp_channels if c.socket == socket), 0.0)


def _least(show: Show, socket: str) -> float:
    return next((value_of(c.minimum) or 0.0 for c in results(show.rig).amp_channels if c.socket == socket), 0.0)


def _placed(unit: Unit) -> bool:
    return unit.position is not None


def box_turned(show: Show) -> Iterator[Mutant]:
    """A box on its side that covers much less so."""
    levels = results(show.rig).levels
    for source in levels.covering if levels.known else ():
        points = own_points(levels, source)
        loss = covered(source, points, 0.0).value - covered(source, points, 90.0).value
        if loss > 25 and not source.box.unit.record.get("turned"):
            edit = into(show, source.box.unit.span, "turned: yes")
            if edit is None and show.line(source.box.unit.span).endswith(":"):
                file, number = source.box.unit.span[:2]
                edit = Edit(Span(file, number + 1, 0, number + 1, 0), "    turned: yes\n")
            about = source.box.name
            yield from _made("box on its side", about, [edit], "turned-on-its-side", about)


def place_wrong(show: Show) -> Iterator[Mutant]:
    """A mix position a digit too far out, an area too; a microphone before the boxes that play it."""
    room = show.plan.sections.get("room")
    if room and isinstance(room.get("size"), Size) and room.get("mix-position"):
        far = within(show, room.at("mix-position"), r"[\d.]+ m out", "130 m out")
        yield from _made("mix position too far", "room", [far], "outside-room", "mix-position", count=-1)
    out = max((u.position.y for u in _mains_boxes(show) if u.position), default=None)
    for channel in show.plan.channels:
        heard = {b for s in channel.sends for b in _mains_of(show, channel.desk, s.bus)}
        if channel.source_key == "mic" and channel.record.get("at") is not None and out is not None and heard:
            edit = typed(show, channel.record, "at", f"{out + 2.5:g} m out 1.6 m up")
            checks = "behind-microphone feedback-margin"
            yield from _made("microphone before the boxes", channel.name, [edit], checks, channel.name, count=-1)


def _mains_of(show: Show, desk: str, bus: str) -> list[str]:
    got = show.plan.buses.get((desk, bus))
    return [got.name] if got is not None and got.role == "mains" else []


def stand_weak(show: Show) -> Iterator[Mutant]:
    """A box on a stand made for less."""
    for item in results(show.rig).stood:
        weight = value_of(item.weight)
        for name in ("sub-pole", "straight-stand"):
            load = show.plan.kinds[name].get("load") if name in show.plan.kinds else None
            if weight is not None and load is not None and load.value < weight and item.unit.family != "microphone":
                edit = typed(show, item.unit.record, "stand", name)
                yield from _made("stand too weak", item.unit.name, [edit], "stand-overload", item.unit.name)


def supplies_mixed(show: Show) -> Iterator[Mutant]:
    """One circuit on another supply; a unit on two circuits; one phase that carries it all."""
    circuits = results(show.rig).mains.circuits
    power = show.plan.sections.get("power")
    for circuit in circuits:
        others = [s.name for s in power.get("supplies", ()) if s.name != circuit.supply] if power else []
        if others and circuit.record.get("supply"):
            edit = typed(show, circuit.record, "supply", others[0])
            yield from _made("another supply", circuit.name, [edit], "audio-on-mixed-supplies", circuit.supply)
        elif power:
            file = circuit.record.at("supply").file
            more = below(show, r"^  supplies:", "    van: {rating: 32 A}", file)
            edit = typed(show, circuit.record, "supply", "van")
            yield from _made("another supply", circuit.name, [edit, more], "audio-on-mixed-supplies", "van")
        for other in circuits:
            fed = other.record.get("feeds", ())
            if other is not circuit and fed and "feeds" in circuit.record.spans:
                name, at = str(fed[0]), circuit.record.at("feeds")
                line = Span(at.file, at.line, 0, at.line, 0)
                twice = within(show, line, r"feeds: \[", f"feeds: [{name}, ")
                checks = "circuit-twice circuit-overload"
                yield from _made("unit on two circuits", name, [twice], checks, name, circuit.name, count=-1)
    for supply in results(show.rig).mains.supplies:
        if value_of(supply.unbalance) is not None and supply.rating:
            # more than half of the rating, and less than lasting loads may take of it
            load = f"{0.6 * supply.rating * 0.23:.1f} kW"
            line = f"    heater: {{supply: {supply.name}, phase: L2, rating: 125 A, other-load: {load}}}"
            more = below(show, r"^  circuits:", line)
            yield from _made("one phase full", supply.name, [more], "phase-unbalanced", supply.name)


def rack_shut(show: Show) -> Iterator[Mutant]:
    """Blanks where there were vents; two units back to back that are deeper than the rack."""
    for figures in results(show.rig).racks:
        rack = figures.rack
        line = show.line(rack.record.at("front"))
        vents = sum(int(n) for n in re.findall(r"vent (\d+) U", line))
        if figures.heat.value > 320 and vents and figures.air.value == vents:
            span = rack.record.at("front")
            start = Span(span.file, span.line, 0, span.line, len(line))
            shut = Edit(start, line.replace("vent", "blank"))
            yield from _made("vents closed", rack.name, [shut], "rack-no-air", rack.name)
        inside = rack.kind.get("inside-depth") if rack.kind else None
        ranked = [i for i in figures.items if i.side == "front" and not i.panel and i.depth_m]
        for moved, other in permutations(ranked, 2):
            place = re.search(rf"\b{moved.low}: {moved.name}(, )?", line)
            fits = figures.units and other.low + moved.high - moved.low <= figures.units
            deep = (moved.depth_m or 0) + (other.depth_m or 0)
            if place and fits and inside is not None and deep > inside.value + 0.01:
                number, file = rack.record.at("front").line, rack.record.at("front").file
                rest = line[: place.start()] + line[place.end() :] + f"\n    rear: {{{other.low}: {moved.name}}}"
                edit = Edit(Span(file, number, 0, number, len(line)), rest)
                about = (moved.name, other.name)
                yield from _made("back to back", f"{moved.name}, {other.name}", [edit], "rack-clash", *about, count=-1)


def bus_forgotten(show: Show) -> Iterator[Mutant]:
    """A bus of the system that the main bus, its only source, is not sent to."""
    for bus in show.plan.buses.values():
        if bus.role in ("fill", "delay") and not any(s.bus == bus.name for c in show.plan.channels for s in c.sends):
            for source in _buses(show, "mains"):
                for send in source.sends:
                    if send.bus == bus.name:
                        edit = within(show, send.span, re.escape(show.text(send.span)) + r", ", "")
                        yield from _made("bus forgotten", bus.name, [edit], "idle-bus", bus.name, count=-1)


OPERATORS: tuple[Callable[[Show], Iterator[Mutant]], ...] = (
    filter_wrong,
    limiter_lost,
    sub_turned,
    channel_loaded,
    box_turned,
    place_wrong,
    stand_weak,
    supplies_mixed,
    rack_shut,
    bus_forgotten,
)
