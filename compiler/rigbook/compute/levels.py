"""Direct sound over the audience: levels by band and place, coverage, and where a box should point.

What checks and tables use is computed at a few dozen places of each area without numpy; the map of the Speakers page
(`maps`, level_map.py) has up to 2,000 places and imports it. Both go through the same formulas.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import cached_property
from typing import TYPE_CHECKING, cast

from rigbook.compute.areas import Area, areas
from rigbook.compute.boxes import Boxes
from rigbook.compute.cables import Run
from rigbook.compute.delays import listening_point
from rigbook.compute.figure import Figure
from rigbook.compute.loads import AmpChannel
from rigbook.compute.places import Places, Spot
from rigbook.compute.sources import BANDS, CREST_DB, Field, Source, a_level, sources
from rigbook.plan.model import Plan
from rigbook.records import frozen
from rigbook.text.phrase import phrase

if TYPE_CHECKING:
    from rigbook.compute.level_map import LevelMap
    from rigbook.physics._numeric import Values

CHECK_POINTS = 96
FULL_TO_MUSIC_DB = CREST_DB - 10 * math.log10(2)
"""Average of music with that crest factor below a sine of the same peak: 8.99 dB."""
LIMITS_OF_MODEL = (
    phrase("direct sound only, no reflections"),
    phrase("pink noise"),
    phrase("coverage by an elliptical model, −6 dB at the nominal angle"),
    phrase("planning estimate"),
)
NO_AIR = phrase("air absorption left out: its formula does not hold at this temperature and humidity")


@frozen
class Band:
    """Lowest, highest and mean level of a band over an area; `hz` is 0 for the A-weighted sum of all."""

    hz: float
    lowest: Figure
    highest: Figure
    mean: Figure
    spread: Figure
    """Difference over the middle 90 % of the places."""


@frozen
class AreaLevels:
    """An audience area with what is heard in it."""

    area: Area
    points: tuple[Spot, ...]
    a_levels: tuple[float, ...]
    bands: tuple[Band, ...]
    uncovered: Figure
    """Share outside every box's nominal coverage, %."""
    first_row: Figure
    """Highest A-weighted level in the first row."""


class Levels:
    """Levels of a plan. Empty areas and sources where the plan places nothing."""

    def __init__(
        self, plan: Plan, boxes: Boxes, places: Places, channels: tuple[AmpChannel, ...], runs: tuple[Run, ...]
    ) -> None:
        self._plan, self._boxes, self._places = plan, boxes, places
        self._channels, self._runs = channels, runs

    @cached_property
    def areas(self) -> tuple[Area, ...]:
        """The audience areas."""
        return areas(self._places)

    @cached_property
    def sources(self) -> tuple[Source, ...]:
        """Every placed source."""
        if not self.areas and self._places.mix is None:
            return ()
        return sources(self._boxes, self._places, self._channels, self._runs)

    @cached_property
    def known(self) -> bool:
        """There is something to hear and someone to hear it; without a main box there is no level to go by."""
        return bool(self.areas and any(not s.box.is_sub and not s.box.helps for s in self.sources))

    @cached_property
    def field(self) -> Field:
        """All sources together."""
        return Field(self.sources, self._places)

    @cached_property
    def model(self) -> tuple[str, ...]:
        """What these levels leave out."""
        return LIMITS_OF_MODEL if self.field.with_air else (*LIMITS_OF_MODEL, NO_AIR)

    @cached_property
    def mix(self) -> tuple[Spot, str]:
        """Where the show is mixed; the middle of the first area where the plan does not say."""
        spot = self._places.mix
        return (
            (spot, phrase("mix position"))
            if spot
            else (self.areas[0].middle, phrase("middle of `%(area)s`", area=self.areas[0].name))
        )

    @cached_property
    def full_at_mix(self) -> float:
        """A-weighted level at the mix position of mains and subs at full power, dB."""
        mains = Field([s for s in self.sources if not s.box.helps], self._places)
        return float(cast("float", a_level(mains.of_all(self.mix[0]))))

    @cached_property
    def most_trims(self) -> dict[str, float]:
        """Gain of each source against its full power where music has mains and subs just below clipping, dB.

        A fill or delay box gives, where it is judged, what mains and subs give at the mix position.
        """
        level = self.full_at_mix - FULL_TO_MUSIC_DB
        out = {}
        for source in self.sources:
            out[source.box.name] = -FULL_TO_MUSIC_DB
            listener = listening_point(source.box, self._places)[0] if source.box.helps else None
            if listener is not None:
                own = float(cast("float", a_level(self.field.of_one(source, listener))))
                out[source.box.name] = min(level - own, -FULL_TO_MUSIC_DB)
        return out

    @cached_property
    def most_at_mix(self) -> Figure:
        """The most that music can have at the mix position before an amplifier clips, every box together."""
        alone = self.full_at_mix - FULL_TO_MUSIC_DB
        inputs = [
            (phrase("full power of mains and subs"), self.full_at_mix, "dB(A)"),
            (phrase("crest factor of music"), CREST_DB, "dB"),
            (phrase("crest factor of a sine"), CREST_DB - FULL_TO_MUSIC_DB, "dB"),
            (phrase("mains and subs with music"), alone, "dB(A)"),
        ]
        how = phrase("a sine at full power, less what the crest factor of music is more than that of a sine")
        if not any(s.box.helps for s in self.sources):
            return Figure(alone, "dB(A)", how, tuple(inputs), self.model)
        most = float(cast("float", a_level(self.field.of_all(self.mix[0], self.most_trims))))
        inputs.append((phrase("with fill and delay boxes"), most, "dB(A)"))
        return Figure(most, "dB(A)", how, tuple(inputs), self.model)

    @cached_property
    def programme(self) -> Figure:
        """A-weighted level of the show at the mix position, every box together: as aimed at, else the limit; no
        more than it can be.
        """
        room = self._places.room
        target, limit = self._plan.get("target-level"), room.get("noise-limit") if room else None
        wanted = target or limit
        most = self.most_at_mix.value
        where = self.mix[1]
        if wanted is None:
            return Figure(
                most, "dB(A)", phrase("the most that music can have at the %(place)s", place=where), (), self.model
            )
        words = phrase("level aimed at") if target else phrase("noise limit")
        inputs = ((words, wanted.value, "dB(A)"), (phrase("most the rig gives"), most, "dB(A)"))
        return Figure(
            min(wanted.value, most),
            "dB(A)",
            phrase("%(level)s, where the rig gives it", level=words),
            inputs,
            self.model,
        )

    @cached_property
    def trims(self) -> dict[str, float]:
        """Gain of each source against its full power at programme level, dB: every box goes down together."""
        if not self.known:
            return {}
        down = self.programme.value - self.most_at_mix.value
        return {name: gain + down for name, gain in self.most_trims.items()}

    @cached_property
    def by_area(self) -> tuple[AreaLevels, ...]:
        """Each area with its levels at programme level."""
        if not self.known:
            return ()
        whole = sum(a.size_m2 for a in self.areas)
        counts = (max(24, round(CHECK_POINTS * a.size_m2 / whole)) for a in self.areas)
        return tuple(self._area(area, count) for area, count in zip(self.areas, counts, strict=True))

    def _area(self, area: Area, count: int) -> AreaLevels:
        rows = area.rows(count)
        points = tuple(p for row in rows for p in row)
        by_point = [self.at(p) for p in points]
        weighted = tuple(a for _, a in by_point)
        first = max(weighted[: len(rows[0])])
        each = [(0.0, weighted), *((hz, [b[i] for b, _ in by_point]) for i, hz in enumerate(BANDS))]
        bands = [_band(hz, levels, self.model) for hz, levels in each]
        outside = sum(1 for p in points if not any(s.covers(p) for s in self.covering))
        inputs = (("places sampled", len(points), ""),)
        share = Figure(
            100 * outside / len(points), "%", phrase("places outside every box's nominal coverage"), inputs, (), 0
        )
        how = phrase("highest A-weighted level in the first row at programme level")
        front = Figure(first, "dB(A)", how, (("programme", self.programme.value, "dB(A)"),), self.model)
        return AreaLevels(area, points, weighted, tuple(bands), share, front)

    def at(self, point: Sequence[float]) -> tuple[list[float], float]:
        """Level in each band and A-weighted, at one place, at programme level."""
        bands = [float(cast("float", level)) for level in self.field.of_all(point, self.trims)]
        return bands, float(cast("float", a_level(cast("list[Values]", bands))))

    @cached_property
    def covering(self) -> tuple[Source, ...]:
        """Sources that are no subs."""
        return tuple(s for s in self.sources if not s.box.is_sub)

    @cached_property
    def spots(self) -> tuple[tuple[str, Figure], ...]:
        """Programme level at the places where it is judged."""
        if not self.known:
            return ()
        stage = self._places.room.get("stage") if self._places.room else None
        edge = Spot(0.0, 0.0, (stage.height if stage else 0.0) + 1.65)
        front = max(self.by_area, key=lambda a: a.first_row.value)
        how = phrase("energy of all boxes, A-weighted, at programme level")
        inputs = (("programme", self.programme.value, "dB(A)"),)
        found = ((self.mix[1], self.mix[0]), (phrase("stage edge"), edge))
        rows = [(name, Figure(self.at(spot)[1], "dB(A)", how, inputs, self.model)) for name, spot in found]
        return (*rows[:1], (phrase("first row of `%(area)s`", area=front.area.name), front.first_row), *rows[1:])

    @cached_property
    def maps(self) -> tuple[LevelMap, ...]:
        """Each area on a grid, for the picture: at most 2,000 places all together. Imports numpy."""
        if not self.known:
            return ()
        from rigbook.compute.level_map import level_maps

        return level_maps(self.areas, self.field, self.trims)


def _band(hz: float, levels: Sequence[float], model: tuple[str, ...]) -> Band:
    ranked = sorted(levels)
    cut = max(0, round(len(ranked) * 0.05))
    middle = ranked[cut : len(ranked) - cut] or ranked
    unit = "dB" if hz else "dB(A)"
    energy = 10 * math.log10(math.fsum(10 ** (v / 10) for v in ranked) / len(ranked))
    inputs = (("places", len(ranked), ""),)
    return Band(
        hz,
        Figure(ranked[0], unit, phrase("lowest of the places"), inputs, model),
        Figure(ranked[-1], unit, phrase("highest of the places"), inputs, model),
        Figure(energy, unit, phrase("mean of the energies"), inputs, model),
        Figure(
            middle[-1] - middle[0],
            "dB",
            phrase("difference over the middle 90 % of the places"),
            inputs,
            model,
        ),
    )
