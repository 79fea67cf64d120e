from __future__ import annotations

import random
import time
from collections.abc import Iterator

import pytest
from hypothesis import given
from hypothesis import strategies as st

from helpers.carriers import all_hits, on_a_raster
from helpers.check_values import Row, cases, check
from rigbook.physics import intermodulation_hits
from rigbook.physics.errors import OutOfRange
from rigbook.physics.intermodulation import ALL_PRODUCTS
from rigbook.physics.intermodulation_hits import hits

CALLS = {"12-golomb": lambda i: len(hits([(i["start_MHz"] + step * i["step_MHz"]) * 1e6 for step in i["steps"]]))}
guards = st.sampled_from([0.0, 1.0, 25e3, 60e3, 100e3])


@pytest.fixture(autouse=True, scope="module", params=["one by one", "sorted sums"])
def way(request: pytest.FixtureRequest) -> Iterator[None]:
    """Each test looks at the way of a few carriers and at that of many."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(intermodulation_hits, "FEW", {"one by one": 99, "sorted sums": 0}[request.param])
        yield


@cases("intermodulation_hits")
def test_published(row: Row) -> None:
    check(row, CALLS)


@given(on_a_raster, guards)
def test_against_brute_force(carriers: list[float], guard_hz: float) -> None:
    found = hits(carriers, guard_hz, ALL_PRODUCTS)
    assert {(hit.product, hit.sources, hit.victim) for hit in found} == all_hits(carriers, guard_hz)
    assert len(found) == len(all_hits(carriers, guard_hz))


@given(on_a_raster, guards)
def test_each_hit_says_where_it_lies(carriers: list[float], guard_hz: float) -> None:
    for hit in hits(carriers, guard_hz, ALL_PRODUCTS):
        used = [carriers[i] for i in hit.sources]
        frequency_hz = {
            "2a-b": lambda a, b: 2 * a - b,
            "a+b-c": lambda a, b, c: a + b - c,
            "3a-2b": lambda a, b: 3 * a - 2 * b,
        }[hit.product](*used)
        assert hit.frequency_hz == frequency_hz
        assert hit.offset_hz == frequency_hz - carriers[hit.victim]


@given(on_a_raster, st.lists(guards, min_size=9, max_size=9))
def test_a_guard_for_each(carriers: list[float], widths: list[float]) -> None:
    widths = widths[: len(carriers)]
    found = {(hit.product, hit.sources, hit.victim) for hit in hits(carriers, widths, ALL_PRODUCTS)}
    wanted = {hit for guard_hz in set(widths) for hit in all_hits(carriers, guard_hz) if widths[hit[2]] == guard_hz}
    assert found == wanted


@given(on_a_raster, st.integers(1, 3))
def test_a_few_of_each_are_the_nearest(carriers: list[float], few: int) -> None:
    every = hits(carriers, 100e3)
    for hit in hits(carriers, 100e3, most_each=few):
        nearer = [
            h
            for h in every
            if (h.product, h.victim) == (hit.product, hit.victim) and abs(h.offset_hz) < abs(hit.offset_hz)
        ]
        assert len(nearer) < few


def test_hundreds_of_transmitters_in_about_a_second() -> None:
    """Measured 0.07 s for 200 and 0.5 s for 300; the limit leaves room for a slow machine."""
    steps = random.Random(7).sample(range(470 * 40, 694 * 40), 300)
    hits([25e3 * step for step in steps[:100]])  # the import of numpy is not what is measured
    start = time.perf_counter()
    found = hits([25e3 * step for step in steps], 50e3, most_each=1)
    assert time.perf_counter() - start < 5
    assert len(found) == 600


@pytest.mark.parametrize(
    "call",
    [
        lambda: hits([500e6, 500e6]),
        lambda: hits([500e6, 501e6], -1.0),
        lambda: hits([500e6, 501e6], [1.0]),
        lambda: hits([500e6, 501e6], float("nan")),
    ],
)
def test_outside_the_range(call) -> None:
    with pytest.raises(OutOfRange):
        call()


@given(on_a_raster, guards, st.sampled_from([None, 1, 3]))
def test_both_ways_give_the_same_in_the_same_order(carriers: list[float], guard_hz: float, most: int | None) -> None:
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(intermodulation_hits, "FEW", 99)
        few = hits(carriers, guard_hz, ALL_PRODUCTS, most)
        patch.setattr(intermodulation_hits, "FEW", 0)
        assert hits(carriers, guard_hz, ALL_PRODUCTS, most) == few


def test_no_transmitters_no_hits() -> None:
    assert hits([]) == ()
    assert hits([500e6], 1e5, ALL_PRODUCTS) == ()
