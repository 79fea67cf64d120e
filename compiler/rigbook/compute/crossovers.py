"""Where mains and subs meet: their filters, polarity and delay as the plan has them, and how they add."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cached_property, lru_cache
from math import log10
from typing import Literal, cast

from rigbook.compute.boxes import Box, Boxes
from rigbook.compute.figure import Figure, Missing, Result, worked
from rigbook.compute.places import Places
from rigbook.graph.arrivals import Arrival
from rigbook.language.values.filters import Filter
from rigbook.physics.aim import distance_between
from rigbook.physics.crossover_alignment import Alignment, best_alignment
from rigbook.physics.crossover_region import FLOOR, Ripple, crossing_frequency, log_frequencies, ripple
from rigbook.physics.crossovers import Way, overlap_octaves, sum_response, way_response
from rigbook.physics.errors import OutOfRange
from rigbook.physics.filter_prototypes import Family, order_of_slope
from rigbook.physics.filters import Cut
from rigbook.physics.speed_of_sound import speed_of_sound
from rigbook.physics.travel import travel_time
from rigbook.records import frozen
from rigbook.text.phrase import phrase
from rigbook.units.quantity import Amount

DEFAULT_TYPE, DEFAULT_SLOPE, DEFAULT_LINKWITZ_RILEY = "butterworth", 12, 24
"""Taken where a filter does not say (common practice for a channel's plain cut, and for a crossover)."""
PLOT_FROM_HZ, PLOT_TO_HZ = 20.0, 1000.0
FLAT = phrase("loudspeakers themselves taken as flat, both ways at the same gain but for what the plan sets")


@frozen
class Part:
    """One side of a crossover: a box and the way by which its bus arrives."""

    box: str
    leg: str
    arrival: Arrival
    low_cuts: tuple[tuple[str, Filter], ...]
    """Each with the point of the signal that it is set at."""
    high_cuts: tuple[tuple[str, Filter], ...]
    way: Way


@frozen
class Crossover:
    """A main box and the sub under it, one for each unlike pair of settings."""

    lower: Part
    upper: Part
    also: tuple[str, ...]
    """Other boxes that meet in the same way."""
    crossing: Result
    overlap: Result
    lowest: Result
    """Lowest level of the sum within an octave of the crossing."""
    highest: Result
    low: Way
    high: Way
    """Both ways as they arrive at the listener."""
    middle_hz: float
    assumptions: tuple[str, ...]

    @property
    def name(self) -> str:
        """Both boxes."""
        return f"{self.upper.box} and {self.lower.box}"

    @cached_property
    def polarity_advice(self) -> Alignment | None:
        """What polarity alone would do."""
        return _advice(self.low, self.high, self.middle_hz, 0.0)

    @cached_property
    def advice(self) -> Alignment | None:
        """What polarity and delay would do."""
        return _advice(self.low, self.high, self.middle_hz, None)

    @cached_property
    def curve(self) -> tuple[tuple[float, float, float, float], ...]:
        """Frequency in Hz; level of the lower way, of the upper way, of the sum, in dB."""
        return tuple(self.at(hz) for hz in log_frequencies(PLOT_FROM_HZ, PLOT_TO_HZ))

    @cached_property
    def thirds(self) -> tuple[tuple[float, float, float, float], ...]:
        """The same in third octaves, two octaves either side of where the ways meet."""
        return tuple(self.at(self.middle_hz * 2 ** (n / 3)) for n in range(-6, 7))

    def at(self, hz: float) -> tuple[float, float, float, float]:
        """The same at one frequency, rounded to 0.01 Hz and 0.01 dB."""
        each = (way_response(self.low, hz), way_response(self.high, hz), sum_response((self.low, self.high), hz))
        lower, upper, both = (round(20 * log10(max(abs(r), FLOOR)), 2) + 0.0 for r in each)
        return round(hz, 2), lower, upper, both


def parts(boxes: Boxes, chosen: tuple[Box, ...]) -> tuple[Part, ...]:
    """Every arrival at some boxes, with its filters and its response."""
    return tuple(
        Part(
            box.name,
            leg,
            arrival,
            tuple((where, p.low_cut) for where, p in arrival.stages if p.low_cut),
            tuple((where, p.high_cut) for where, p in arrival.stages if p.high_cut),
            way_of(arrival),
        )
        for box in chosen
        for leg, arrival in boxes.ways.get(box.name, ())
        if arrival.end == box.name
    )


def way_of(arrival: Arrival) -> Way:
    """An arrival as the physics has it."""
    cuts = [cut for _, p in arrival.stages for cut in (_cut("low-cut", p.low_cut), _cut("high-cut", p.high_cut)) if cut]
    return Way(tuple(cuts), arrival.gain_db, arrival.reversed, arrival.delay_s)


def _cut(side: Literal["low-cut", "high-cut"], cut: Filter | None) -> Cut | None:
    if cut is None:
        return None
    return Cut(side, cast("Family", cut.type or DEFAULT_TYPE), order_of_slope(_slope(cut)), cut.frequency.value)


def crossovers(boxes: Boxes, places: Places) -> tuple[Crossover, ...]:
    """Every unlike pair of a main box's way and the way of the sub that stands nearest to it."""
    mains = tuple(b for b in boxes.audience if b.is_main)
    uppers = parts(boxes, mains)
    lowers = [p for p in parts(boxes, boxes.subs) if p.high_cuts]
    found: dict[tuple[object, ...], tuple[Part, Part, list[str]]] = {}
    for upper in uppers:
        lower = _partner(upper, lowers, places)
        if lower is None or not upper.low_cuts:
            continue
        key = (lower.way, upper.way, _path_difference(lower, upper, places))
        found.setdefault(key, (lower, upper, []))[2].append(upper.box)
    return tuple(_crossover(lo, up, tuple(b for b in also if b != up.box), places) for lo, up, also in found.values())


def _partner(upper: Part, lowers: list[Part], places: Places) -> Part | None:
    """The nearest sub; where two are told apart by polarity only, one of the majority."""
    if not lowers:
        return None
    turned = sum(p.way.inverted for p in lowers) * 2 > len(lowers)
    usual = [p for p in lowers if p.way.inverted == turned] or lowers
    here = places.unit(upper.box)
    placed = [(distance_between(here, there), i) for i, p in enumerate(usual) if here and (there := places.unit(p.box))]
    return usual[min(placed)[1]] if placed else usual[0]


def _path_difference(lower: Part, upper: Part, places: Places) -> float:
    """By how many seconds the lower box is nearer to the mix position than the upper one; 0 where not known."""
    here, low, high = places.mix, places.unit(lower.box), places.unit(upper.box)
    if here is None or low is None or high is None:
        return 0.0
    speed = speed_of_sound(places.temperature_c)
    return round(travel_time(distance_between(high, here), speed) - travel_time(distance_between(low, here), speed), 5)


def _crossover(lower: Part, upper: Part, also: tuple[str, ...], places: Places) -> Crossover:
    later = _path_difference(lower, upper, places)
    low = lower.way
    high = Way(upper.way.cuts, upper.way.gain_db, upper.way.inverted, upper.way.delay_s + later)
    placed = phrase("heard at the mix position") if later else phrase("both boxes equally far from the listener")
    assumed = (FLAT, placed, *_unsaid(lower, upper))
    crossing = _crossing(low, high)
    middle = crossing or (lower.high_cuts[-1][1].frequency.value * upper.low_cuts[-1][1].frequency.value) ** 0.5
    lowest, highest = _ripple(low, high, middle, assumed)
    meets = (
        Figure(crossing, "Hz", phrase("where both ways have the same level"), (), assumed, 0)
        if crossing
        else Missing(phrase("the upper way never takes over from the lower"))
    )
    overlap = _overlap(lower, upper)
    return Crossover(lower, upper, also, meets, overlap, lowest, highest, low, high, middle, assumed)


def _unsaid(lower: Part, upper: Part) -> tuple[str, ...]:
    """What is assumed of their filters, each once."""
    return tuple(dict.fromkeys(words for _, cut in (*lower.high_cuts, *upper.low_cuts) for words in _assumed(cut)))


def _assumed(cut: Filter) -> Iterator[str]:
    kind = cut.type or DEFAULT_TYPE
    if not cut.type:
        yield phrase("a filter that does not say its kind is taken as %(kind)s", kind=kind.title())
    if not cut.slope:
        slope, said = Amount(str(_slope(cut)), "dB/oct"), kind.title()
        yield phrase("a %(kind)s filter that does not say its slope is taken as %(slope)s", kind=said, slope=slope)
    if kind == "bessel":
        yield phrase("a Bessel filter is 3 dB down at its frequency; some processors count it from another point")


def _slope(cut: Filter) -> int:
    return cut.slope or (DEFAULT_LINKWITZ_RILEY if cut.type == "linkwitz-riley" else DEFAULT_SLOPE)


# like crossovers, of like systems and of plan after plan, are worked out once
_octaves = lru_cache(maxsize=256)(overlap_octaves)


@lru_cache(maxsize=256)
def _crossing(low: Way, high: Way) -> float | None:
    return crossing_frequency(low, high)


@lru_cache(maxsize=256)
def _summed(low: Way, high: Way, middle_hz: float) -> Ripple:
    return ripple((low, high), middle_hz / 2, middle_hz * 2)


@lru_cache(maxsize=256)
def _advice(low: Way, high: Way, middle_hz: float, longest_s: float | None) -> Alignment | None:
    try:
        return best_alignment(low, high, middle_hz, longest_s)
    except OutOfRange:
        return None


def _ripple(low: Way, high: Way, middle_hz: float, assumed: tuple[str, ...]) -> tuple[Result, Result]:
    got = _summed(low, high, middle_hz)
    how = phrase("complex sum of both ways, within an octave of the crossing")
    return (
        Figure(got.lowest_db, "dB", how, (("at", round(got.lowest_hz, 1), "Hz"),), assumed),
        Figure(got.highest_db, "dB", how, (("at", round(got.highest_hz, 1), "Hz"),), assumed),
    )


def _overlap(lower: Part, upper: Part) -> Result:
    end = min((cut for _, cut in lower.high_cuts), key=lambda c: c.frequency.value)
    start = max((cut for _, cut in upper.low_cuts), key=lambda c: c.frequency.value)
    ends, starts = _cut("high-cut", end), _cut("low-cut", start)
    assert ends is not None and starts is not None
    inputs = (("high-cut of the sub", end.text, ""), ("low-cut of the main box", start.text, ""))
    how = phrase("octaves between the −6 dB ends of both filters; below 0 it is a gap")
    return worked(lambda: Figure(_octaves(ends, starts), "octaves", how, inputs, _unsaid(lower, upper), 2))
