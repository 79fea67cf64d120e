from __future__ import annotations

import numpy as np
import pytest

from helpers.check_values import Row, cases, check
from helpers.crossover_pairs import FAMILIES, KINDS
from rigbook.physics.errors import OutOfRange
from rigbook.physics.filter_prototypes import denominator, order_of_slope

CALLS = {
    "06-order": lambda i: order_of_slope(i["dB_per_octave"]),
    "06-poly": lambda i: denominator(FAMILIES[i["family"]], i["order"]),
    "06-poly-bessel": lambda i: denominator(FAMILIES[i["family"]], i["order"]),
}


@cases("filter_prototypes")
def test_published(row: Row) -> None:
    check(row, CALLS)


@pytest.mark.parametrize(("family", "order"), KINDS)
def test_against_another_library(family, order: int) -> None:
    signal = pytest.importorskip("scipy.signal")
    if family == "bessel":
        zeros_and_poles = signal.bessel(order, 1, analog=True, norm="mag")
    elif family == "butterworth":
        zeros_and_poles = signal.butter(order, 1, analog=True)
    else:
        b, a = signal.butter(order // 2, 1, analog=True)
        zeros_and_poles = np.polymul(b, b), np.polymul(a, a)
    theirs = zeros_and_poles[1] / zeros_and_poles[1][-1]
    assert denominator(family, order) == pytest.approx(theirs[::-1], rel=1e-6)


@pytest.mark.parametrize(("family", "order"), KINDS)
def test_all_poles_lie_to_the_left(family, order: int) -> None:
    assert all(root.real < 0 for root in np.roots(denominator(family, order)[::-1]))


@pytest.mark.parametrize("wrong", [0, 3, 9, 54, -6])
def test_slopes_that_do_not_exist(wrong: int) -> None:
    with pytest.raises(OutOfRange):
        order_of_slope(wrong)


@pytest.mark.parametrize(("family", "order"), [("butterworth", 0), ("bessel", 9), ("linkwitz-riley", 3)])
def test_orders_that_do_not_exist(family, order: int) -> None:
    with pytest.raises(OutOfRange):
        denominator(family, order)
