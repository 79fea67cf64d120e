from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from helpers.check_values import Row, cases, check
from rigbook.physics.cable_loss import damping_factor, level_loss, longest_cable, power_lost, smallest_area
from rigbook.physics.conductors import CLASS_5_OHM_PER_KM, awg_resistance, flexible_resistance, loop_resistance
from rigbook.physics.errors import OutOfRange


def loop(i, length_m=None) -> float:
    ohm_per_m = flexible_resistance(i["area_mm2"]) if "area_mm2" in i else awg_resistance(i["awg"])
    return loop_resistance(ohm_per_m, i["length_m"] if length_m is None else length_m, i["t_C"])


def grid(i) -> list[list[float]]:
    return [[level_loss(loop(i, metres), ohm) for metres in i["lengths_m"]] for ohm in i["loads_ohm"]]


CALLS = {
    "04-cable-loss": lambda i: level_loss(loop(i), i["load_ohm"]),
    "04-cable-grid": grid,
    "04-cable-awg": grid,
    "04-cable-power": lambda i: 100 * power_lost(loop(i), i["load_ohm"]),
    "04-df": lambda i: damping_factor(i["amp_df"], i["amp_df_ref_ohm"], loop(i), i["load_ohm"]),
    "04-max-len": lambda i: longest_cable(i["loss_dB"], flexible_resistance(i["area_mm2"]), i["load_ohm"], i["t_C"]),
    "04-area": lambda i: smallest_area(i["loss_dB"], i["length_m"], i["load_ohm"], i["t_C"]),
}
loads = st.floats(1, 600)
losses = st.floats(0.01, 6)
lengths = st.floats(0.1, 300)


@cases("cable_loss")
def test_published(row: Row) -> None:
    check(row, CALLS)


@given(losses, st.sampled_from(list(CLASS_5_OHM_PER_KM)), loads, st.floats(-40, 120))
def test_the_longest_cable_loses_just_the_limit(loss_db: float, area: float, load: float, t_c: float) -> None:
    ohm_per_m = flexible_resistance(area)
    length_m = longest_cable(loss_db, ohm_per_m, load, t_c)
    assert level_loss(loop_resistance(ohm_per_m, length_m, t_c), load) == pytest.approx(loss_db)


@given(losses, lengths, loads)
def test_the_area_found_is_enough_and_the_next_thinner_is_not(loss_db: float, length_m: float, load: float) -> None:
    areas = list(CLASS_5_OHM_PER_KM)
    found = smallest_area(loss_db, length_m, load)
    enough = [level_loss(loop_resistance(flexible_resistance(a), length_m), load) <= loss_db for a in areas]
    assert enough == [found is not None and area >= found for area in areas]


@given(st.floats(0, 10), loads)
def test_level_and_power_tell_the_same(loop_ohm: float, load: float) -> None:
    kept = 1 - power_lost(loop_ohm, load)
    assert kept == pytest.approx(10 ** (-level_loss(loop_ohm, load) / 20))


@given(st.floats(10, 5000), st.floats(0, 10), loads)
def test_damping_is_below_that_of_the_amplifier_and_of_the_cable(factor: float, loop_ohm: float, load: float) -> None:
    got = damping_factor(factor, load, loop_ohm, load)
    assert got <= factor * (1 + 1e-12)
    assert got * loop_ohm <= load


@pytest.mark.parametrize(
    "call",
    [
        lambda: level_loss(-1, 8),
        lambda: level_loss(1, 0),
        lambda: power_lost(1, -8),
        lambda: damping_factor(0, 8, 0.1, 8),
        lambda: damping_factor(200, 8, 0.1, float("nan")),
        lambda: longest_cable(-0.5, 0.008, 8),
        lambda: smallest_area(0.5, 10, 8, 200),
    ],
)
def test_outside_the_range(call) -> None:
    with pytest.raises(OutOfRange):
        call()
