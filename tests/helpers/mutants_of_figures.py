"""Single faults of loudspeakers, places, power, racks and radio, put into a good plan like those of `mutants`."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from itertools import pairwise, permutations

from helpers.mutants import Edit, Mutant, Show, _made, into
from rigbook.compute.racks import Item
from rigbook.compute.results import results
from rigbook.findings.place import Span
from rigbook.language.record import Record
from rigbook.plan.model import Unit


def typed(show: Show, record: Record, key: str, text: str) -> Edit | None:
    """What is typed for a key, replaced; None where the key is not typed in one line."""
    span = record.spans.get(key)
    if record.get(key) is None or span is None or span.line != span.end_line:
        return None
    return Edit(record.at(key), text)


def within(show: Show, span: Span, pattern: str, text: str) -> Edit | None:
    """The first match of a pattern on the line of a span, from the span on, replaced."""
    found = re.search(pattern, show.line(span)[span.column :])
    if not found:
        return None
    start, end = span.column + found.start(), span.column + found.end()
    return Edit(Span(span.file, span.line, start, span.line, end), found.expand(text))


def _units(show: Show, *families: str) -> Iterator[Unit]:
    """Units of some families, each named alone on its line."""
    for unit in show.plan.units.values():
        alone = re.match(re.escape(unit.name) + r"\s*:", show.line(unit.span).lstrip())
        if unit.family in families and alone and not unit.spare:
            yield unit


def _mains_boxes(show: Show) -> Iterator[Unit]:
    names = {b.name for b in results(show.rig).boxes.all if b.is_main}
    yield from (u for u in _units(show, "speaker", "powered speaker") if u.name in names)


def _named(show: Show, circuit: str) -> Span:
    """Where a circuit is named."""
    power = show.plan.sections["power"]
    return next(e.span for e in power.get("circuits") if e.name == circuit)


def circuit_overloaded(show: Show) -> Iterator[Mutant]:
    """Something large besides on a circuit."""
    for circuit in results(show.rig).mains.circuits:
        edit = into(show, _named(show, circuit.name), "other-load: 4 kW")
        yield from _made("circuit overloaded", circuit.name, [edit], "circuit-overload", circuit.name)


def feed_thin(show: Show) -> Iterator[Mutant]:
    """A feed far too long, and one too thin for its breaker, to a circuit with something on it."""
    for circuit in results(show.rig).mains.circuits:
        if circuit.eighth.value > 5 and "length" not in circuit.record.spans:
            long = into(show, _named(show, circuit.name), "length: 900 m, area: 2.5 mm2")
            yield from _made("feed too long", circuit.name, [long], "voltage-drop", circuit.name)
            thin = into(show, _named(show, circuit.name), "length: 120 m, area: 1 mm2")
            yield from _made("feed too thin", circuit.name, [thin], "feed-too-thin", circuit.name)


def unit_off_circuits(show: Show) -> Iterator[Mutant]:
    """A unit that draws power and hangs on no circuit."""
    for circuit in results(show.rig).mains.circuits:
        fed = circuit.record.get("feeds", ())
        if len(fed) > 1:
            name = str(fed[-1])
            edit = within(show, circuit.record.at("feeds"), rf", {re.escape(name)}\b", "")
            yield from _made("unit on no circuit", name, [edit], "circuit-unknown", name)


def speaker_cable_long(show: Show) -> Iterator[Mutant]:
    """A speaker cable ten times as long."""
    for run in results(show.rig).cable_runs:
        if len(run.cables) == 1 and run.cables[0].length:
            cable = run.cables[0]
            edit = within(show, cable.span, rf", {re.escape(str(cable.length))}", f", {cable.length.value * 10:g} m")
            # nobody owns a cable that long
            checks = "speaker-cable-loss damping-low cable-too-long cable-short-of-stock"
            yield from _made("speaker cable too long", cable.name, [edit], checks, run.box, cable.start.id, count=-1)


def amplifier_small(show: Show) -> Iterator[Mutant]:
    """An amplifier of a tenth of the power its boxes take."""
    for unit in _units(show, "amplifier"):
        assert unit.kind is not None
        found = re.fullmatch(r"amplifier-(\d)x(\d+)", unit.kind.name)
        small = {"2": "amplifier-2x300", "4": "amplifier-4x250"}.get(found[1]) if found else None
        boxes = [d for c in results(show.rig).amp_channels if c.amplifier == unit.name for d in c.boxes]
        rated = [k.get("rated-power") for d in boxes if (k := show.plan.units[d.box].kind)]
        if small and found and rated and all(r and r.value > 2 * int(small.partition("x")[2]) for r in rated):
            edit = within(show, unit.span, re.escape(unit.kind.name), small)
            checks = "amp-too-small level-structure amp-underload"
            about = tuple(d.box for d in boxes)
            yield from _made("amplifier too small", unit.name, [edit], checks, unit.name, *about, count=-1)


def amplifier_bridged(show: Show) -> Iterator[Mutant]:
    """Bridged, while both of its channels are wired by themselves."""
    for unit in _units(show, "amplifier"):
        assert unit.kind is not None
        if "bridged" in unit.kind.modes and "mode" not in unit.record.spans:
            edit = into(show, unit.span, "mode: bridged")
            plain = within(show, unit.span, re.escape(unit.kind.name), f"{{kind: {unit.kind.name}, mode: bridged}}")
            checks = "bridge-misuse amp-underload amp-too-large orphan-output silent-speaker polarity-at-crossover"
            yield from _made("amplifier bridged", unit.name, [edit or plain], checks, count=-1)


def delay_wrong(show: Show) -> Iterator[Mutant]:
    """A delay far beyond what the distances ask for; and none at all."""
    for bus in show.plan.buses.values():
        delay = bus.record.get("delay")
        if bus.role in ("fill", "delay") and delay is not None:
            late = typed(show, bus.record, "delay", f"{delay.value * 1000 + 120:g} ms")
            yield from _made("delay too long", bus.name, [late], "delay-out-of-window", count=-1)
            none = within(show, bus.span, r"delay: [\d.]+ ms(?:, )?", "")
            yield from _made("delay left out", bus.name, [none], "delay-missing delay-out-of-window", count=-1)


def crossover_apart(show: Show) -> Iterator[Mutant]:
    """The low-cut of the mains far above where the subs end, and the high-cut of the subs far above."""
    for bus in show.plan.buses.values():
        if bus.role == "mains" and bus.record.get("low-cut") is not None:
            edit = within(show, bus.span, r"low-cut: [\d.]+ Hz", "low-cut: 400 Hz")
            yield from _made("gap at the crossover", bus.name, [edit], "crossover-gap", count=-1)
        if bus.role == "subs" and bus.record.get("high-cut") is not None:
            edit = within(show, bus.span, r"high-cut: [\d.]+ Hz", "high-cut: 400 Hz")
            yield from _made("overlap at the crossover", bus.name, [edit], "crossover-overlap", count=-1)
            none = within(show, bus.span, r"high-cut: [^,}]+(?:, )?", "")
            yield from _made("sub full range", bus.name, [none], "sub-full-range", count=-1)


def subs_turned(show: Show) -> Iterator[Mutant]:
    """The subs out of polarity with the mains."""
    for bus in show.plan.buses.values():
        if bus.role == "subs":
            edit = into(show, bus.span, "polarity: reversed")
            yield from _made("subs reversed", bus.name, [edit], "polarity-at-crossover", count=-1)


def box_low(show: Show) -> Iterator[Mutant]:
    """A main box at knee height."""
    for unit in _mains_boxes(show):
        edit = within(show, unit.span, r"[\d.]+ m up", "0.6 m up")
        # where it has a fellow on the other side, the two no longer are a pair
        checks = "below-head-height front-row-level coverage-uneven audience-uncovered feedback-margin pair-uneven"
        yield from _made("box too low", unit.name, [edit], checks, unit.name, count=-1, own="")


def level_too_high(show: Show) -> Iterator[Mutant]:
    """A show that is meant to be louder than the place allows."""
    levels, room = results(show.rig).levels, show.plan.sections.get("room")
    if levels.known and room and room.get("noise-limit"):
        aimed = round(levels.most_at_mix.value) - 2
        limit = typed(show, room, "noise-limit", f"{aimed - 10} dB")
        for name, source in show.sources.items():
            line = next((i for i, text in enumerate(source.lines) if text.startswith("show:")), None)
            if line is not None:
                target = Edit(Span(name, line, 0, line, 0), f"target-level: {aimed} dB(A)\n")
                checks = "level-over-limit exposure-over-limit"
                yield from _made("louder than allowed", name, [target, limit], checks, count=-1)


def monitor_turned(show: Show) -> Iterator[Mutant]:
    """A stage monitor that plays to the audience."""
    for unit in _units(show, "speaker", "powered speaker"):
        if unit.kind and unit.kind.get("box") == "wedge" and unit.position and unit.position.y < 0:
            edit = within(show, unit.span, r"aim: [^,}]+", "aim: out")
            checks = "monitor-at-audience feedback-margin"
            yield from _made("monitor at the audience", unit.name, [edit], checks, unit.name)


def safety_forgotten(show: Show) -> Iterator[Mutant]:
    """A hung box without a second suspension."""
    for unit in _units(show, "speaker", "powered speaker"):
        edit = within(show, unit.span, r", safety: (?:\"[^\"]*\"|[^,}]+(?:, own \w+)?)", "")
        if unit.record.get("safety") and unit.record.get("mount") in ("hung", "truss"):
            yield from _made("no second suspension", unit.name, [edit], "hang-without-safety", unit.name)


def rack_mounted_wrong(show: Show) -> Iterator[Mutant]:
    """A rack carried by one, a unit that ends above the rack, and one in a place that is taken."""
    for figures in results(show.rig).racks:
        rack = figures.rack
        if figures.weight.value > 40 and not rack.record.get("wheels"):
            edit = typed(show, rack.record, "lifts", "1")
            yield from _made("rack lifted by one", rack.name, [edit], "lift-by-two rack-heavy", rack.name)
        ranked = sorted((i for i in figures.items if i.side == "front" and not i.panel), key=lambda i: i.low)
        top = max(figures.items, key=lambda i: i.high)
        for item in ranked[-1:]:
            if figures.units and item.high > item.low and item == top:
                edit = _moved(show, item, figures.units)
                yield from _made("rack overfull", item.name, [edit], "rack-overfull rack-clash", rack.name)
        for below, item in pairwise(ranked):
            if item.low != below.low and below.high != below.low:
                edit = _moved(show, item, below.high)
                about = (item.name, below.name)
                yield from _made("two in one place", item.name, [edit], "rack-clash", *about, count=-1)


def _moved(show: Show, item: Item, low: int) -> Edit | None:
    return within(show, _line_of(item.span), rf"\b{item.low}: {item.name}\b", f"{low}: {item.name}")


def _line_of(span: Span) -> Span:
    return Span(span.file, span.line, 0, span.line, 0)


def radio_wrong(show: Show) -> Iterator[Mutant]:
    """Two on one frequency, a product on a third, a carrier outside the bands."""
    radio = results(show.rig).radio
    for a, b in permutations(radio.carriers, 2):
        edit = typed(show, a.record, "frequency", f"{b.hz / 1e6:g} MHz")
        yield from _made("one frequency twice", f"{a.name} on {b.name}", [edit], "radio-overlap", a.name, b.name)
    for a, b, c in permutations(radio.carriers, 3):
        product = 2 * a.hz - b.hz
        apart = min(abs(product - x.hz) for x in radio.carriers if x is not c)
        if apart > 1e6 and any(low < product < high for low, high in radio.allowed):
            edit = typed(show, c.record, "frequency", f"{product / 1e6:g} MHz")
            what = f"{c.name} on 2 {a.name} - {b.name}"
            yield from _made("intermodulation", what, [edit], "radio-intermodulation", c.name)
    for carrier in radio.carriers:
        edit = typed(show, carrier.record, "frequency", "560 MHz")
        yield from _made("out of band", carrier.name, [edit], "radio-out-of-band", carrier.name)


OPERATORS: tuple[Callable[[Show], Iterator[Mutant]], ...] = (
    circuit_overloaded,
    feed_thin,
    unit_off_circuits,
    speaker_cable_long,
    amplifier_small,
    amplifier_bridged,
    delay_wrong,
    crossover_apart,
    subs_turned,
    box_low,
    level_too_high,
    monitor_turned,
    safety_forgotten,
    rack_mounted_wrong,
    radio_wrong,
)
