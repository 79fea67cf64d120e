"""Radio intermodulation: the products of transmitters and how near they come to carriers in use.

Frequencies are rounded to whole hertz, so that equal products compare as equal.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, Final, Literal

from rigbook.physics._carriers import whole_hertz
from rigbook.physics._numeric import require

if TYPE_CHECKING:
    from rigbook.physics._carriers import Integers

Product = Literal["2a-b", "a+b-c", "3a-2b"]
"""Third order of two transmitters, third order of three, fifth order of two."""

THIRD_ORDER: Final[tuple[Product, ...]] = ("2a-b", "a+b-c")
ALL_PRODUCTS: Final[tuple[Product, ...]] = ("2a-b", "a+b-c", "3a-2b")


def products(carriers_hz: Sequence[float], product: Product) -> tuple[float, ...]:
    """Frequencies of one kind of intermodulation product.

    Args:
        carriers_hz: carriers, Hz, all unlike.
        product: which kind.
    Returns: Hz, rising, equal ones once; those at or below zero left out.
    Source: W. C. Babcock, Intermodulation interference in radio systems, BSTJ 32, 1953; ITU-R SM.1134.
    Valid: carriers from 1 Hz to 1 THz.
    """
    import numpy as np

    found = [frequencies for _, frequencies in _products_of(whole_hertz(carriers_hz), product)]
    merged = np.unique(np.concatenate(found)) if found else np.zeros(0, dtype=np.int64)
    return tuple(float(f) for f in merged[merged > 0])


def product_count(carriers: int) -> tuple[int, int]:
    """Number of third-order products, before equal ones are merged.

    Args:
        carriers: number of carriers.
    Returns: of two transmitters (2a-b), of three (a+b-c).
    Source: combinatorics: n(n-1) and n(n-1)(n-2)/2; Babcock, BSTJ 32, 1953.
    Valid: zero or more.
    """
    require("number of carriers", carriers, "", 0)
    return carriers * (carriers - 1), carriers * (carriers - 1) * (carriers - 2) // 2


def nearest_product(carriers_hz: Sequence[float], kinds: Sequence[Product] = THIRD_ORDER) -> float:
    """Smallest distance of a product from a carrier in use.

    Args:
        carriers_hz: carriers, Hz, all unlike.
        kinds: the kinds of product to look at.
    Returns: Hz; infinity where there is no product. A product counts against its own sources too, so the result is
        never more than the smallest spacing of the carriers.
    Source: as `products`.
    Valid: as `products`.
    """
    import numpy as np

    carriers = np.sort(whole_hertz(carriers_hz))
    nearest = math.inf
    for kind in kinds:
        for _, frequencies in _products_of(carriers, kind):
            if not frequencies.size:
                continue
            after = np.searchsorted(carriers, frequencies)
            above = np.abs(carriers[np.minimum(after, carriers.size - 1)] - frequencies)
            below = np.abs(carriers[np.maximum(after - 1, 0)] - frequencies)
            nearest = min(nearest, float(np.minimum(above, below).min()))
    return nearest


def _products_of(carriers: Integers, product: Product) -> Iterator[tuple[int, Integers]]:
    """For each carrier that is taken away (b, or c of three), the products in which it is."""
    import numpy as np

    for last in range(carriers.size):
        others = np.delete(carriers, last)
        if product == "2a-b":
            yield last, 2 * others - carriers[last]
        elif product == "3a-2b":
            yield last, 3 * others - 2 * carriers[last]
        elif others.size > 1:
            i, j = np.triu_indices(others.size, 1)
            yield last, others[i] + others[j] - carriers[last]
