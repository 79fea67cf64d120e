"""Every box as a source of direct sound: its level in each octave band, and what of it arrives at a listener.

The model, and its limits: direct sound only, no reflections; each box alone and far from the listener against its
own size; pink noise; coverage by the elliptical model of `physics/off_axis.py`, widened where the box is small
against the wavelength; air absorption by ISO 9613-1. A planning estimate.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from functools import cached_property
from typing import TYPE_CHECKING, cast

from rigbook.compute.boxes import Box, Boxes
from rigbook.compute.cables import Run
from rigbook.compute.crossovers import way_of
from rigbook.compute.figure import value_of
from rigbook.compute.loads import AmpChannel, Driven, limited_w
from rigbook.compute.places import Aim, Places, Spot
from rigbook.language.values.sizes import Coverage
from rigbook.physics.aim import distance_between, listener_angles
from rigbook.physics.air_absorption import absorption_loss, octave_band_coefficient
from rigbook.physics.bands import OCTAVE_BANDS_HZ, exact_mid_band
from rigbook.physics.crossovers import way_response
from rigbook.physics.directivity import coverage_in_band
from rigbook.physics.errors import OutOfRange
from rigbook.physics.levels import distance_loss
from rigbook.physics.off_axis import ALL_ROUND_DEG, HALF_PRESSURE_DB, off_axis_loss
from rigbook.physics.speed_of_sound import speed_of_sound
from rigbook.physics.sums import coherent_sum, energy_sum
from rigbook.physics.travel import travel_time
from rigbook.physics.weightings import weighted_level
from rigbook.records import frozen

if TYPE_CHECKING:
    from rigbook.physics._numeric import Array, Values

BANDS = OCTAVE_BANDS_HZ
NEAREST_M = 0.5
"""Nearer than this a box is no point any more; levels are not taken to rise further (ours)."""
CREST_DB = 12.0
"""Crest factor of loud music (common practice): its average just below clipping is 1/8 of a sine's power."""
SILENT_DB = -200.0
COVERAGE_UNSAID = Coverage(90.0, 60.0, "90 x 60 deg")


@frozen
class Source:
    """A placed box: its free-field level at 1 m on its axis in each band, at full power."""

    box: Box
    spot: Spot
    aim: Aim
    levels: tuple[float, ...]
    """dB at 1 m, one for each band; `SILENT_DB` where the box gives nothing."""
    coverage: Coverage
    widths: tuple[tuple[float, float], ...]
    """Coverage in each band, degrees."""
    inverted: bool
    delay_s: float
    full_power_w: float | None
    """Power at the box at full power, after the cable; None for a powered box."""

    def angles(self, listener: Sequence[float] | Array) -> tuple[Values, Values]:
        """Angles of a listener (three floats, or an array of points) in the box's own frame, degrees."""
        return listener_angles(self.spot, self.aim.turn, self.aim.tilt, listener, self.aim.roll)

    def distance(self, listener: Sequence[float] | Array) -> Values:
        """Distance of a listener in m, no less than `NEAREST_M`."""
        metres = distance_between(self.spot, listener)
        if isinstance(metres, (int, float)):
            return max(metres, NEAREST_M)
        import numpy as np

        return np.maximum(metres, NEAREST_M)

    def covers(self, listener: Sequence[float] | Array) -> Values:
        """1 where a listener lies within the nominal coverage, else 0."""
        h, v = self.angles(listener)
        loss = off_axis_loss(h, v, self.coverage.horizontal, self.coverage.vertical)
        return cast("Values", (loss <= HALF_PRESSURE_DB + 1e-9) * 1.0)


class Field:
    """The direct sound of some sources."""

    def __init__(self, sources: Iterable[Source], places: Places) -> None:
        self.sources = tuple(sources)
        self._places = places

    @cached_property
    def _air(self) -> tuple[float, ...]:
        """Air absorption in each band, dB/m; none where the formula does not hold (`with_air`)."""
        t, rh = self._places.temperature_c, self._places.humidity_pct
        try:
            return tuple(octave_band_coefficient(band, t, rh) for band in BANDS)
        except OutOfRange:
            return (0.0,) * len(BANDS)

    @property
    def with_air(self) -> bool:
        """False where air absorption is left out: outside -20 to 50 °C, or in air that is all but dry."""
        return any(self._air)

    def of_one(self, source: Source, listener: Sequence[float] | Array, trim_db: float = 0.0) -> list[Values]:
        """Level of one source in each band, in dB: floats for three floats, arrays for an array of points."""
        h, v = source.angles(listener)
        metres = source.distance(listener)
        spread = distance_loss(metres)
        return [
            # what a box does not play needs no working out: a third of the time of a small plan
            level + trim_db - spread - absorption_loss(metres, air) - off_axis_loss(h, v, *width)
            if level > SILENT_DB
            else SILENT_DB + 0.0 * spread
            for level, air, width in zip(source.levels, self._air, source.widths, strict=True)
        ]

    def of_all(self, listener: Sequence[float] | Array, trims: dict[str, float] | None = None) -> list[Values]:
        """Level of all sources in each band: energy of unlike boxes; subs with their phases."""
        trims = trims or {}
        each = [(s, self.of_one(s, listener, trims.get(s.box.name, 0.0))) for s in self.sources]
        return [self._band(i, each, listener) for i in range(len(BANDS))]

    def _band(self, i: int, each: list[tuple[Source, list[Values]]], listener: Sequence[float] | Array) -> Values:
        subs = [(s, levels[i]) for s, levels in each if s.box.is_sub]
        others: list[Values] = [levels[i] for s, levels in each if not s.box.is_sub]
        if subs:
            phases = [self._phase(s, BANDS[i], listener) for s, _ in subs]
            found = [level for _, level in subs]
            others.append(coherent_sum(cast("list[float]", found), cast("list[float]", phases)))
        return energy_sum(others)

    def _phase(self, source: Source, band_hz: float, listener: Sequence[float] | Array) -> Values:
        speed = speed_of_sound(self._places.temperature_c)
        late = travel_time(source.distance(listener), speed) + source.delay_s
        return -360.0 * exact_mid_band(band_hz) * late + (180.0 if source.inverted else 0.0)


def a_level(levels: list[Values]) -> Values:
    """A-weighted level of levels in `BANDS`."""
    return weighted_level(cast("list[float]", levels), BANDS, "A")


def sources(
    boxes: Boxes, places: Places, channels: tuple[AmpChannel, ...], runs: tuple[Run, ...]
) -> tuple[Source, ...]:
    """Every placed box of known sensitivity that plays to the audience, subs included, in plan order."""
    driven = {d.box: (c, d) for c in channels for d in c.boxes}
    losses = {r.box: value_of(r.loss) or 0.0 for r in runs}
    found = (
        _source(box, boxes, places, driven.get(box.name), losses.get(box.name, 0.0))
        for box in (*boxes.audience, *boxes.subs)
    )
    return tuple(s for s in found if s is not None)


def _source(
    box: Box, boxes: Boxes, places: Places, driven: tuple[AmpChannel, Driven] | None, cable_db: float
) -> Source | None:
    spot = places.unit(box.name)
    whole, watts = full_level(box, driven, boxes, cable_db)
    if spot is None or whole is None:
        return None
    arrival = next((a for _, a in boxes.ways.get(box.name, ())), None)
    way = way_of(arrival) if arrival else None
    losses = [_band_loss(box, band, abs(way_response(way, exact_mid_band(band))) if way else 1.0) for band in BANDS]
    gain = way.gain_db if way else 0.0
    total = energy_sum([loss - gain for loss in losses])
    levels = tuple(SILENT_DB if loss <= SILENT_DB else whole + loss - gain - total for loss in losses)
    coverage = box.kind.get("coverage") or (Coverage(360, 360, "all round") if box.is_sub else COVERAGE_UNSAID)
    return Source(
        box,
        spot,
        places.aim(box.unit),
        levels,
        coverage,
        tuple(_width(box, coverage, band) for band in BANDS),
        way.inverted if way else False,
        way.delay_s if way else 0.0,
        watts,
    )


def _band_loss(box: Box, band_hz: float, response: float) -> float:
    """What a band of pink noise lacks: outside the range of the box all of it, within it what the filters take."""
    limits = box.kind.get("range")
    low, high = (limits[0].value, limits[1].value) if limits else (0.0, math.inf)
    middle = exact_mid_band(band_hz)
    if not low / 2**0.5 <= middle <= high * 2**0.5 or response <= 0:
        return SILENT_DB
    return max(20 * math.log10(response), SILENT_DB)


def _width(box: Box, coverage: Coverage, band_hz: float) -> tuple[float, float]:
    size = box.kind.get("size")
    if size is None or box.is_sub or coverage.horizontal >= ALL_ROUND_DEG:
        return coverage.horizontal, coverage.vertical
    middle = exact_mid_band(band_hz)
    across = coverage_in_band(coverage.horizontal, middle, size.width)
    return across, coverage_in_band(coverage.vertical, middle, size.height)


def full_level(
    box: Box, driven: tuple[AmpChannel, Driven] | None, boxes: Boxes, cable_db: float
) -> tuple[float | None, float | None]:
    """Level at 1 m on axis at full power and that power: no more than amplifier, rating and limiter let through."""
    rated = box.kind.get("rated-power")
    peak_level, peak = box.kind.get("peak-level"), box.kind.get("peak-power")
    if box.unit.family == "powered speaker":
        if peak_level is None:
            return None, None
        below = 10 * math.log10(peak.value / rated.value) if peak and rated else 6.0
        return peak_level.value - below, None
    sensitivity = box.kind.get("sensitivity")
    if sensitivity is None:
        return None, None
    choices = [rated.value] if rated else []
    if driven:
        channel, here = driven
        power = value_of(here.power)
        choices += [power] if power else []
        limited = limited_w(channel, here, next((a for _, a in boxes.ways.get(box.name, ())), None))
        choices += [limited] if limited else []
    if not choices:
        return None, None
    watts = min(choices) * 10 ** (-cable_db / 10)
    return sensitivity.value + 10 * math.log10(watts), watts
