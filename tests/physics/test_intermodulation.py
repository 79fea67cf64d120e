from __future__ import annotations

from itertools import combinations, permutations

import pytest
from hypothesis import given

from helpers.carriers import closest_pair, on_a_raster
from helpers.check_values import Row, cases, check
from rigbook.physics.errors import OutOfRange
from rigbook.physics.intermodulation import ALL_PRODUCTS, THIRD_ORDER, nearest_product, product_count, products

MHZ = 1e6


def in_mhz(product):
    return lambda i: [f / MHZ for f in products([f * MHZ for f in i["carriers_MHz"]], product)]


CALLS = {
    "12-2t3o": in_mhz("2a-b"),
    "12-3t3o": in_mhz("a+b-c"),
    "12-2t5o": in_mhz("3a-2b"),
    "12-margin": lambda i: nearest_product([f * MHZ for f in i["carriers_MHz"]]) / MHZ,
    "12-count": lambda i: list(product_count(i["n"])),
}


def by_hand(carriers: list[float], product: str) -> list[float]:
    if product == "a+b-c":
        found = {a + b - c for a, b in combinations(carriers, 2) for c in carriers if c not in (a, b)}
    else:
        times_a, times_b = (2, 1) if product == "2a-b" else (3, 2)
        found = {times_a * a - times_b * b for a, b in permutations(carriers, 2)}
    return sorted(found)


@cases("intermodulation")
def test_published(row: Row) -> None:
    check(row, CALLS)


@given(on_a_raster)
def test_products_against_brute_force(carriers: list[float]) -> None:
    for product in ALL_PRODUCTS:
        assert list(products(carriers, product)) == by_hand(carriers, product)


@given(on_a_raster)
def test_the_nearest_product_against_brute_force(carriers: list[float]) -> None:
    for kinds in (THIRD_ORDER, ALL_PRODUCTS):
        found = [f for kind in kinds for f in by_hand(carriers, kind)]
        wanted = min((abs(f - c) for f in found for c in carriers), default=float("inf"))
        assert nearest_product(carriers, kinds) == wanted


@given(on_a_raster)
def test_a_product_is_never_farther_than_the_smallest_spacing(carriers: list[float]) -> None:
    assert len(carriers) < 2 or nearest_product(carriers) <= closest_pair(carriers)


@given(on_a_raster)
def test_the_count_is_that_of_products_before_merging(carriers: list[float]) -> None:
    pairs, triples = product_count(len(carriers))
    assert len(products(carriers, "2a-b")) <= pairs
    assert len(products(carriers, "a+b-c")) <= triples


@given(on_a_raster)
def test_order_does_not_matter(carriers: list[float]) -> None:
    for product in ALL_PRODUCTS:
        assert products(carriers, product) == products(carriers[::-1], product)


def test_products_below_zero_are_left_out() -> None:
    assert products([1 * MHZ, 3 * MHZ], "2a-b") == (5 * MHZ,)


@pytest.mark.parametrize("wrong", [[500e6, 500e6], [0.0], [float("nan"), 500e6], [1e13]])
@pytest.mark.parametrize("call", [lambda c: products(c, "2a-b"), nearest_product])
def test_outside_the_range(call, wrong: list[float]) -> None:
    with pytest.raises(OutOfRange):
        call(wrong)


def test_no_number_below_zero() -> None:
    with pytest.raises(OutOfRange):
        product_count(-1)
