"""Levels over an audience area on a grid of places, for a picture and for who computes on. Imports numpy."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import ceil
from typing import TYPE_CHECKING

from rigbook.compute.areas import Area, crossings
from rigbook.compute.sources import Field, a_level
from rigbook.records import frozen

if TYPE_CHECKING:
    from rigbook.physics._numeric import Array as Array

MOST_PLACES = 2000
"""Places of all areas together: the map of a hall is then fine enough for a printed page (ours)."""
STEPS_M = (0.25, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0, 1000.0)
EDGE_M = 1e-6


@frozen
class LevelMap:
    """Levels on a grid over an area, its outermost rows and columns on the edges of the area."""

    area: Area
    step_m: float
    """No two neighbours are farther apart."""
    x: Array
    """Columns from house left to house right, m: shape (columns,)."""
    y: Array
    """Rows from the stage outwards, m: shape (rows,)."""
    inside: Array
    """True where a place lies within the outline: shape (rows, columns)."""
    levels: Array
    """A-weighted, then each octave band, dB: shape (1 + bands, rows, columns)."""

    # arrays have no one answer to `==`: a map is only itself
    __eq__ = object.__eq__
    __hash__ = object.__hash__

    @property
    def places(self) -> Iterator[tuple[float, float, float]]:
        """X and y in m and A-weighted level of every place within the outline, row by row."""
        for j, i in zip(*self.inside.nonzero(), strict=True):
            yield float(self.x[i]), float(self.y[j]), float(self.levels[0, j, i])


def level_maps(areas: Sequence[Area], field: Field, trims: dict[str, float]) -> tuple[LevelMap, ...]:
    """Every area on a grid of one step, the finest with which all have no more than `MOST_PLACES` places."""
    step = next((s for s in STEPS_M if sum(_count(a, s) for a in areas) <= MOST_PLACES), STEPS_M[-1])
    return tuple(_map(area, step, field, trims) for area in areas)


def _spans(area: Area) -> tuple[tuple[float, float], tuple[float, float]]:
    xs, ys = [c.x for c in area.corners], [c.y for c in area.corners]
    return (min(xs), max(xs)), (min(ys), max(ys))


def _count(area: Area, step_m: float) -> int:
    columns, rows = (_places(low, high, step_m) for low, high in _spans(area))
    return columns * rows


def _places(low: float, high: float, step_m: float) -> int:
    return min(ceil((high - low) / step_m - 1e-9), MOST_PLACES) + 1


def _map(area: Area, step_m: float, field: Field, trims: dict[str, float]) -> LevelMap:
    import numpy as np

    (left, right), (front, rear) = _spans(area)
    x = np.linspace(left, right, max(_places(left, right, step_m), 2))
    y = np.linspace(front, rear, max(_places(front, rear, step_m), 2))
    floor = np.array([area.floor(0.0, float(out)) for out in y])
    points = np.empty((len(y), len(x), 3))
    points[..., 0], points[..., 1], points[..., 2] = x, y[:, None], (floor + area.ear_m)[:, None]
    bands = field.of_all(points.reshape(-1, 3), trims)
    levels = np.stack([a_level(bands), *bands]).reshape(-1, len(y), len(x))
    inside = np.zeros((len(y), len(x)), dtype=bool)
    for row, out in zip(inside, y, strict=True):
        for a, b in crossings(area.corners, float(min(max(out, front + EDGE_M), rear - EDGE_M))):
            row |= (x >= a - 2 * EDGE_M) & (x <= b + 2 * EDGE_M)
    return LevelMap(area, step_m, x, y, inside, levels)
