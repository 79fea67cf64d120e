"""Which intermodulation products land on which carriers, with their sources, for several hundred transmitters.

Three transmitters make n²(n-1)/2 products, 13 million for 300. They are never listed: a+b-c hits d where the sum a+b
comes near c+d, so all sums are sorted once and each c+d is looked up among them.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import combinations, permutations
from typing import TYPE_CHECKING, Final

from rigbook.physics._carriers import plain_hertz, whole_hertz
from rigbook.physics._numeric import require
from rigbook.physics.intermodulation import THIRD_ORDER, Product
from rigbook.records import frozen

if TYPE_CHECKING:
    from rigbook.physics._carriers import Integers

FEW: Final = 16
"""Of so many carriers the products are looked at one by one, in less time than numpy takes to be loaded."""


@frozen
class Hit:
    """A product that lands on a carrier in use."""

    product: Product
    sources: tuple[int, ...]
    """Positions of a, b (and c) in the list of carriers."""
    victim: int
    """Position of the carrier that is hit."""
    frequency_hz: float
    """Where the product lies."""
    offset_hz: float
    """Product minus carrier."""


def hits(
    carriers_hz: Sequence[float],
    guards_hz: Sequence[float] | float = 0.0,
    kinds: Sequence[Product] = THIRD_ORDER,
    most_each: int | None = None,
) -> tuple[Hit, ...]:
    """Products that land on a carrier other than their own sources.

    Args:
        carriers_hz: carriers, Hz, all unlike.
        guards_hz: a product hits if it lies nearer to the carrier than this, Hz; one for all, or one for each
            carrier. With 0 only a product on the very hertz hits.
        kinds: the kinds of product to look at.
        most_each: of each kind and carrier give at most this many, the nearest first. On an evenly spaced raster
            there are about n³/3 in all.
    Returns: by kind in the order given, then by victim, nearest first. Products of the same frequency and other
        sources are all there.
    Source: as `intermodulation.products`.
    Valid: carriers from 1 Hz to 1 THz, guards zero or more. Says where products fall, not how strong they are: that
        hangs on distances, powers and filters.
    """
    number = len(carriers_hz)
    carriers = plain_hertz(carriers_hz)
    guards = [guards_hz] * number if isinstance(guards_hz, (int, float)) else list(guards_hz)
    require("number of guards", len(guards), "", number, number)
    for guard_hz in guards:
        require("guard", guard_hz, "Hz", 0, 1e12)
    widths = [max(1, math.ceil(guard_hz)) for guard_hz in guards]
    if number <= FEW:
        return tuple(hit for kind in kinds for hit in _of_few(carriers, widths, kind, most_each))
    array = whole_hertz(carriers_hz)
    return tuple(hit for kind in kinds for hit in _of_kind(array, widths, kind, most_each))


def _of_few(carriers: list[int], widths: list[int], kind: Product, most_each: int | None) -> Iterator[Hit]:
    places = range(len(carriers))
    made: list[tuple[int, tuple[int, ...]]]
    if kind == "a+b-c":
        made = [
            (carriers[a] + carriers[b] - carriers[c], (a, b, c))
            for a, b in combinations(places, 2) for c in places if c not in (a, b)
        ]  # fmt: skip
    else:
        times_a, times_b = (2, 1) if kind == "2a-b" else (3, 2)
        made = [(times_a * carriers[a] - times_b * carriers[b], (a, b)) for a, b in permutations(places, 2)]
    for victim, width in enumerate(widths):
        here = carriers[victim]
        near = [(hz - here, sources) for hz, sources in made if abs(hz - here) < width and victim not in sources]
        near.sort(key=lambda hit: (abs(hit[0]), hit[1]))
        for offset, sources in near[:most_each]:
            yield Hit(kind, sources, victim, float(here + offset), float(offset))


def _of_kind(carriers: Integers, widths: list[int], kind: Product, most_each: int | None) -> Iterator[Hit]:
    import numpy as np

    sums = _PairSums(carriers) if kind == "a+b-c" else None
    for victim, width in enumerate(widths):
        sources = sums.hitting(victim, width) if sums else _pairs_hitting(carriers, victim, width, kind)
        offsets = _frequency(carriers, sources, kind) - carriers[victim]
        order = np.lexsort((*sources.T[::-1], np.abs(offsets)))[:most_each]
        for row, offset in zip(sources[order].tolist(), offsets[order].tolist()):
            frequency_hz = float(carriers[victim] + offset)
            yield Hit(kind, tuple(row), victim, frequency_hz, float(offset))


def _frequency(carriers: Integers, sources: Integers, kind: Product) -> Integers:
    used = carriers[sources]
    if kind == "a+b-c":
        return used[:, 0] + used[:, 1] - used[:, 2]
    times_a, times_b = (2, 1) if kind == "2a-b" else (3, 2)
    return times_a * used[:, 0] - times_b * used[:, 1]


def _pairs_hitting(carriers: Integers, victim: int, width: int, kind: Product) -> Integers:
    import numpy as np

    times_a, times_b = (2, 1) if kind == "2a-b" else (3, 2)
    offsets = times_a * carriers[:, None] - times_b * carriers[None, :] - carriers[victim]
    near = np.abs(offsets) < width
    near[victim, :] = near[:, victim] = False
    np.fill_diagonal(near, False)
    return np.argwhere(near)


class _PairSums:
    """All sums a+b, sorted."""

    def __init__(self, carriers: Integers) -> None:
        import numpy as np

        a, b = np.triu_indices(carriers.size, 1)
        sums = carriers[a] + carriers[b]
        order = np.argsort(sums, kind="stable")
        self._carriers, self._sums, self._a, self._b = carriers, sums[order], a[order], b[order]

    def hitting(self, victim: int, width: int) -> Integers:
        """Rows (a, b, c) whose a+b-c lies nearer to the victim than the width."""
        import numpy as np

        wanted = self._carriers + self._carriers[victim]
        first = np.searchsorted(self._sums, wanted - width, side="right")
        count = np.maximum(np.searchsorted(self._sums, wanted + width, side="left") - first, 0)
        c = np.repeat(np.arange(wanted.size), count)
        place = np.arange(count.sum()) + np.repeat(first - np.cumsum(count) + count, count)
        a, b = self._a[place], self._b[place]
        unlike = (a != c) & (b != c) & (a != victim) & (b != victim) & (c != victim)
        return np.stack((a[unlike], b[unlike], c[unlike]), axis=1)
