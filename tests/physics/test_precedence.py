from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from helpers.check_values import Row, cases, check
from rigbook.physics.errors import OutOfRange
from rigbook.physics.precedence import fill_delay, late_level_allowed, second_arrival
from rigbook.physics.speed_of_sound import speed_of_sound

TENTHS_OF_MS = [n / 10_000 for n in range(1001)]


def haas(row: Row) -> float:
    """Find the edge that a row states by asking for every tenth of a millisecond."""
    if row["unit"] == "dB":
        return late_level_allowed(0.020)
    heard = {delay: second_arrival(delay) for delay in TENTHS_OF_MS}
    edges = {
        "17-haas-01": min(delay for delay, how in heard.items() if how == "fuses"),
        "17-haas-02": max(delay for delay, how in heard.items() if how == "fuses"),
        "17-haas-04": min(delay for delay, how in heard.items() if how == "echo"),
    }
    return 1000 * edges[row["id"]]


def fill(i) -> float:
    return 1000 * fill_delay(i["d_main_m"], i["d_fill_m"], speed_of_sound(i["t_C"]), i["offset_ms"] / 1000)


@cases("precedence")
def test_published(row: Row) -> None:
    check(row, {"17-haas": lambda _: haas(row), "17-delay": fill})


@given(st.floats(0, 200), st.floats(0, 200), st.floats(0.005, 0.03))
def test_the_fill_arrives_the_offset_later(main: float, near: float, offset: float) -> None:
    arrival = near / 343.2 + fill_delay(main, near, 343.2, offset)
    assert arrival - main / 343.2 == pytest.approx(offset)


def test_regions_follow_each_other() -> None:
    order = ["shifts", "fuses", "blurs", "echo"]
    places = [order.index(second_arrival(delay)) for delay in TENTHS_OF_MS]
    assert places == sorted(places)
    assert set(places) == {0, 1, 2, 3}


@pytest.mark.parametrize(
    "call",
    [
        lambda: second_arrival(-0.001),
        lambda: late_level_allowed(0.004),
        lambda: late_level_allowed(0.036),
        lambda: fill_delay(-1, 1, 343.2),
        lambda: fill_delay(1, 1, 343.2, -0.01),
    ],
)
def test_outside_the_range(call) -> None:
    with pytest.raises(OutOfRange):
        call()
