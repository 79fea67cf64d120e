"""Search for frequencies without intermodulation, as near to the wanted ones as it can be done simply.

Not one product is listed. Each carrier that is placed paints out, on every grid of candidates, where the next one must
not be: near the carrier itself, where products of the placed ones fall, and where a new carrier would make a
product that falls on a placed one. For a+b-c both are the same set, since a+b-c = d is also c = a+b-d.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from rigbook.physics._numeric import require
from rigbook.physics.intermodulation import THIRD_ORDER, Product
from rigbook.records import frozen

if TYPE_CHECKING:
    import numpy as np
    import numpy.typing as npt

    Floats = npt.NDArray[np.float64]


@frozen
class Transmitter:
    """A transmitter and where it may be tuned."""

    wanted_hz: float
    bands_hz: tuple[tuple[float, float], ...] = ()
    """Lower and upper end of each band it may use; empty where it cannot be moved."""
    step_hz: float = 25_000.0
    """Tuning step, counted from the lower end of each band."""


def clean_frequencies(
    transmitters: Sequence[Transmitter],
    spacing_hz: float,
    guard_hz: float,
    kinds: Sequence[Product] = THIRD_ORDER,
) -> tuple[float | None, ...]:
    """Frequencies near the wanted ones on which no transmitter is hit by a product of others.

    Args:
        transmitters: in order of importance: of two that clash the later one moves.
        spacing_hz: two carriers lie at least this far apart, Hz.
        guard_hz: a product lies at least this far from every carrier that is not its source, Hz.
        kinds: the kinds of product to look at.
    Returns: Hz for each transmitter, in the order given; `None` where nothing clean was found for it. Those that
        cannot be moved keep their frequency, clean or not.
    Source: ours: first all that cannot move, then in order all whose wanted frequency is clean, then in order the
        others, each to the nearest clean frequency. Difference triangles (Babcock, BSTJ 32, 1953) bound what exists:
        n carriers need about n² guards of spectrum.
    Valid: 1 Hz to 1 THz, spacing and guard above zero. A plain search: a better set may exist, and one transmitter
        left without a frequency does not prove that none would do.
    """
    require("spacing", spacing_hz, "Hz", 0, above=True)
    require("guard", guard_hz, "Hz", 0, above=True)
    grids = {(t.bands_hz, t.step_hz): _Grid(t) for t in transmitters if t.bands_hz}
    placing = _Placing(list(grids.values()), spacing_hz, guard_hz, tuple(kinds))
    result: list[float | None] = [None] * len(transmitters)
    movable = [i for i, t in enumerate(transmitters) if t.bands_hz]
    for i, transmitter in enumerate(transmitters):
        if not transmitter.bands_hz:
            require("carrier", transmitter.wanted_hz, "Hz", 1, 1e12)
            result[i] = placing.place(transmitter.wanted_hz)
    for farthest_hz in (0.0, math.inf):
        for i in movable:
            transmitter = transmitters[i]
            grid = grids[transmitter.bands_hz, transmitter.step_hz]
            reach_hz = max(farthest_hz, transmitter.step_hz / 2)
            nearest = grid.nearest_free(transmitter.wanted_hz, reach_hz) if result[i] is None else None
            if nearest is not None:
                result[i] = placing.place(nearest)
    return tuple(result)


class _Grid:
    """The frequencies one kind of transmitter can be tuned to, and how often each is painted out."""

    def __init__(self, transmitter: Transmitter) -> None:
        import numpy as np

        require("tuning step", transmitter.step_hz, "Hz", 1)
        parts = []
        for low_hz, high_hz in transmitter.bands_hz:
            require("lower end of a band", low_hz, "Hz", 1, 1e12)
            require("upper end of a band", high_hz, "Hz", low_hz, 1e12)
            count = math.floor((high_hz - low_hz) / transmitter.step_hz + 1e-9) + 1
            require("number of tuning steps", count, "", 1, 10_000_000)
            parts.append(low_hz + transmitter.step_hz * np.arange(count))
        self.frequencies: Floats = np.unique(np.rint(np.concatenate(parts)))
        self._painted = np.zeros(self.frequencies.size, dtype=bool)

    def paint(self, centres: Floats, half_width: float) -> None:
        """Rule out all that lies nearer to a centre than the half width."""
        import numpy as np

        first = np.searchsorted(self.frequencies, centres - half_width, side="right")
        after = np.searchsorted(self.frequencies, centres + half_width, side="left")
        size = self.frequencies.size + 1
        real = after > first  # where nothing lies between, the two are crossed over
        depth = np.bincount(first[real], minlength=size) - np.bincount(after[real], minlength=size)
        self._painted |= np.cumsum(depth)[:-1] > 0

    def nearest_free(self, wanted_hz: float, reach_hz: float) -> float | None:
        """The free frequency nearest to the wanted one, the lower of two."""
        import numpy as np

        free = self.frequencies[~self._painted]
        if not free.size:
            return None
        nearest = float(free[np.argmin(np.abs(free - wanted_hz))])
        return nearest if abs(nearest - wanted_hz) <= reach_hz else None


class _Placing:
    """The carriers placed so far."""

    def __init__(self, grids: list[_Grid], spacing_hz: float, guard_hz: float, kinds: tuple[Product, ...]) -> None:
        import numpy as np

        self._grids, self._spacing, self._guard, self._kinds = grids, spacing_hz, guard_hz, kinds
        self._placed: Floats = np.zeros(0)

    def place(self, frequency_hz: float) -> float:
        """Take a frequency, and rule out on every grid what it rules out."""
        import numpy as np

        centres_and_widths = [(np.array([frequency_hz]), self._spacing), *self._ruled_out(frequency_hz)]
        for grid in self._grids:
            for centres, half_width in centres_and_widths:
                grid.paint(centres, half_width)
        self._placed = np.append(self._placed, frequency_hz)
        return frequency_hz

    def _ruled_out(self, f: float) -> Iterator[tuple[Floats, float]]:
        """For the new carrier f with the placed ones p, q: centres of what a further carrier x must avoid."""
        import numpy as np

        p, guard = self._placed, self._guard
        if "2a-b" in self._kinds:
            yield np.concatenate((2 * f - p, 2 * p - f)), guard  # product on x, or of b = x on a placed one
            yield (p + f) / 2, guard / 2  # 2x - p on f and 2x - f on p
        if "a+b-c" in self._kinds and p.size > 1:
            i, j = np.triu_indices(p.size, 1)
            yield np.concatenate((f + p[i] - p[j], f + p[j] - p[i], p[i] + p[j] - f)), guard
        if "3a-2b" in self._kinds:
            yield np.concatenate((3 * f - 2 * p, 3 * p - 2 * f)), guard
            yield np.concatenate(((3 * f - p) / 2, (3 * p - f) / 2)), guard / 2  # 3f - 2x on p and 3p - 2x on f
            yield np.concatenate(((2 * f + p) / 3, (2 * p + f) / 3)), guard / 3  # 3x - 2f on p and 3x - 2p on f
