"""What is tuned, bus leg by bus leg: the boxes that it drives, what the plan sets on the way to them and where, what it
works out for them, and the bands to write down.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING, Final, cast

from rigbook.compute.boxes import Box
from rigbook.compute.delays import listening_point
from rigbook.compute.figure import Figure, Missing, Result
from rigbook.compute.results import Results
from rigbook.compute.sources import Field, a_level
from rigbook.graph.arrivals import Arrival
from rigbook.language.record import Entry, Record
from rigbook.physics.bands import preferred_frequencies
from rigbook.physics.sums import energy_sum
from rigbook.plan.model import Bus
from rigbook.plan.processing import Processing
from rigbook.records import frozen
from rigbook.text.phrase import joined, phrase
from rigbook.units.quantity import Amount, Quantity

if TYPE_CHECKING:
    from collections.abc import Sequence

LOWEST_HZ, HIGHEST_HZ = 20.0, 20_000.0
BEYOND: Final = 2.0
"""An octave below and above what the boxes play: there filters and neighbours still show (ours)."""
AT_THE_EAR: Final = phrase("energy of these boxes alone, with the show at the level aimed at")


@frozen
class Line:
    """A setting or reading of a leg."""

    key: str
    """Names it among the lines of its leg; the same as long as the plan sets the same at the same place."""
    what: str
    where: str
    """Where it is set, or measured, as named in the plan; empty where it is set nowhere yet."""
    boxes: tuple[str, ...]
    """Boxes that it is for, where it is not for all of the leg."""
    planned: str
    worked: Result | None = None
    """What the plan works out for it."""
    against: str = ""
    """What the figure is against: another box; empty where it stands by itself."""


@frozen
class Leg:
    """A bus leg that drives boxes."""

    node: str
    """Its node of the graph."""
    bus: Bus
    boxes: tuple[str, ...]
    microphone: str
    """Where its level is judged; empty where the plan does not say, as for a stage monitor."""
    lines: tuple[Line, ...]
    bands: tuple[float, ...]
    """Nominal mid-band frequencies of third octaves, Hz, rising."""


def legs(got: Results) -> tuple[Leg, ...]:
    """Every leg that drives a box in use, in the order of the plan's buses."""
    by_leg: dict[str, list[Arrival]] = {}
    for box in got.boxes.all:
        for leg, arrival in got.boxes.ways.get(box.name, ()):
            by_leg.setdefault(leg, []).append(arrival)
    return tuple(_leg(got, node, by_leg[node]) for node in got.rig.legs if node in by_leg)


def _leg(got: Results, node: str, ways: list[Arrival]) -> Leg:
    boxes = [got.boxes.by_name[n] for n in dict.fromkeys(a.end for a in ways)]
    names = tuple(b.name for b in boxes)
    bus = got.rig.net.nodes[node]["bus"]
    level = _level(got, boxes)
    lines = [level, *_times(got, ways, names), *_settings(ways, names), *_equaliser(got, bus, node, ways)]
    lines += [*_subs(got, names), *_crossings(got, node, names), *_limiters(got, names)]
    return Leg(node, bus, names, level.where, tuple(lines), bands(boxes))


def bands(boxes: Iterable[Box]) -> tuple[float, ...]:
    """Third-octave bands (IEC 61260-1:2014, annex E; ISO 266) that boxes play, and an octave more at both ends; all
    from 20 Hz to 20 kHz where a kind does not say what it plays.
    """
    ranges = [b.kind.get("range") for b in boxes]
    low, high = LOWEST_HZ, HIGHEST_HZ
    if ranges and all(ranges):
        low = max(low, min(r[0].value for r in ranges) / BEYOND)
        high = min(high, max(r[1].value for r in ranges) * BEYOND)
    return preferred_frequencies(3, low, high)


def _level(got: Results, boxes: list[Box]) -> Line:
    """The level of the boxes alone where they are judged: A-weighted; of subs without weighting."""
    what = phrase("Level at the microphone")
    audience = [b for b in boxes if not b.to_stage]
    if not audience or not got.levels.known:
        return Line("level", what, "", (), "")
    helping = next((b for b in audience if b.helps), None)
    spot, where = listening_point(helping, got.places) if helping else got.levels.mix
    own = [s for s in got.levels.sources if s.box.name in {b.name for b in audience}]
    if spot is None or not own:
        return Line("level", what, where, (), "")
    each = Field(own, got.places).of_all(spot, got.levels.trims)
    subs = all(b.is_sub for b in audience)
    total = energy_sum(cast("Sequence[float]", each)) if subs else a_level(each)
    unit = "dB" if subs else "dB(A)"
    inputs = ((phrase("programme"), got.levels.programme.value, "dB(A)"),)
    assumed = (*got.levels.model, *((phrase("subs without weighting, octaves from 63 Hz"),) if subs else ()))
    figure = Figure(float(cast("float", total)), unit, AT_THE_EAR, inputs, assumed, 0)
    return Line("level", what, where, (), "", figure)


def _times(got: Results, ways: list[Arrival], names: tuple[str, ...]) -> Iterator[Line]:
    """Delay in all and polarity, once for all boxes that share them."""
    wanted = {d.box: d for d in got.delays}
    groups: dict[tuple[str, str, str], list[str]] = {}
    for way in ways:
        stands = joined(where for where, p in way.stages if p.delay)
        main = wanted[way.end].helps if way.end in wanted else ""
        sum_ms = Amount(f"{way.delay_s * 1000:.2f}".rstrip("0").rstrip("."), "ms")
        groups.setdefault((sum_ms, stands, main), []).append(way.end)
    for (total, set_at, helps), boxes in groups.items():
        few = _few(boxes, names)
        worked = wanted[boxes[0]].wanted if helps else None
        yield Line(" ".join(("delay", *few)), phrase("Delay in all"), set_at, few, total, worked, helps)
    sides: dict[tuple[bool, str], list[str]] = {}
    for way in ways:
        sides.setdefault((way.reversed, joined(w for w, p in way.stages if p.reversed)), []).append(way.end)
    for (turned, at), boxes in sides.items():
        few = _few(boxes, names)
        key = " ".join(("polarity", *few))
        yield Line(key, phrase("Polarity"), at, few, phrase("reversed") if turned else phrase("normal"))


def _few(boxes: Iterable[str], names: tuple[str, ...]) -> tuple[str, ...]:
    """Boxes, each once; none where they are all of the leg."""
    some = tuple(dict.fromkeys(boxes))
    return () if set(some) == set(names) else some


def _settings(ways: list[Arrival], names: tuple[str, ...]) -> Iterator[Line]:
    """Filters, gain and limiter of each point on the way, in the order of the signal."""
    found: dict[tuple[str, str, str, str], list[str]] = {}
    for way in ways:
        for where, stage in way.stages:
            for key, what, text in _of(stage):
                found.setdefault((where, key, what, text), []).append(way.end)
    for (where, key, what, text), boxes in found.items():
        yield Line(f"{key} {where}", what, where, _few(boxes, names), text)


def _of(stage: Processing) -> Iterator[tuple[str, str, str]]:
    for key, what, cut in (("low-cut", LOW_CUT, stage.low_cut), ("high-cut", HIGH_CUT, stage.high_cut)):
        if cut is not None:
            yield key, what, cut.text
    for key, what, amount in (("gain", GAIN, stage.gain), ("limiter", LIMITER, stage.limiter)):
        if isinstance(amount, Quantity):
            yield key, what, amount.page()


LOW_CUT, HIGH_CUT = phrase("Low cut"), phrase("High cut")
GAIN, LIMITER = phrase("Gain"), phrase("Limiter")


def _equaliser(got: Results, bus: Bus, node: str, ways: list[Arrival]) -> Iterator[Line]:
    """What the plan says in words about the equaliser of the bus, its outputs, and the sockets on the way."""
    leg = got.rig.net.nodes[node].get("leg", "")
    told: list[tuple[str, Record]] = [(phrase("bus %(name)s", name=bus.name), bus.record)]
    outputs = (o for o in got.plan.outputs if (o.desk, o.bus) == (bus.desk, bus.name) and o.leg in (leg, "mono"))
    told += [(phrase("output %(name)s", name=o.name), o.record) for o in outputs]
    told += [(socket, entry.value) for socket, entry in _set_on(got, ways)]
    for where, record in told:
        if record.get("equaliser"):
            yield Line(f"equaliser {where}", phrase("Equaliser"), where, (), str(record.get("equaliser")))


def _set_on(got: Results, ways: list[Arrival]) -> Iterator[tuple[str, Entry]]:
    """What the plan sets on sockets that the ways lead through, each once."""
    for socket in dict.fromkeys(node for way in ways for edge in way.way for node in edge[:2]):
        data = got.rig.net.nodes[socket]
        unit = got.plan.units.get(data.get("unit", ""))
        for entry in unit.record.get("settings", ()) if unit and "socket" in data else ():
            if entry.name == data["socket"].port and isinstance(entry.value, Record):
                yield socket, entry


def _subs(got: Results, names: tuple[str, ...]) -> Iterator[Line]:
    """When subs arrive against the main box nearest to them, at the mix position."""
    for s in got.sub_alignments:
        if s.sub in names:
            yield Line(f"later {s.sub}", phrase("Arrives later, as planned"), "", _few([s.sub], names), "", s.later,
                       s.top)  # fmt: skip


def _crossings(got: Results, node: str, names: tuple[str, ...]) -> Iterator[Line]:
    """Where a leg meets another one."""
    for pair in got.crossovers:
        for own, other in ((pair.upper, pair.lower), (pair.lower, pair.upper)):
            if own.leg == node and own.box in names:
                yield Line(f"crossing {own.box} {other.box}", phrase("Crosses over at"), "", _few([own.box], names), "",
                           pair.crossing, other.box)  # fmt: skip


def _limiters(got: Results, names: tuple[str, ...]) -> Iterator[Line]:
    """Where an rms limiter should act, as a level at the amplifier's input."""
    for channel in got.amp_channels:
        few = [d.box for d in channel.boxes if d.box in names]
        if few and not isinstance(channel.limiter_input, Missing):
            yield Line(f"threshold {channel.socket}", phrase("Limiter threshold at the input"), channel.socket,
                       _few(few, names), "", channel.limiter_input)  # fmt: skip
