from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from helpers.check_values import Row, cases, check
from rigbook.physics.acoustic_gain import (
    equivalent_acoustic_distance,
    feedback_margin,
    needed_acoustic_gain,
    open_microphone_loss,
    potential_acoustic_gain,
    source_attenuation,
)
from rigbook.physics.errors import OutOfRange
from rigbook.physics.levels import level_at_distance

FOOT = 0.3048
DISTANCES = ("D0", "D1", "Ds", "D2")


def metres(i) -> float:
    return FOOT if i.get("length_unit") == "ft" else 1.0


def potential(i) -> float:
    unit = metres(i)
    near = i["Dc"] * unit if "Dc" in i else None
    return potential_acoustic_gain(*(i[name] * unit for name in DISTANCES), i["NOM"], i["FSM_dB"], near)


def needed(i) -> float:
    unit = metres(i)
    return needed_acoustic_gain(i["D0"] * unit, i["EAD"] * unit, i["Dc"] * unit if "Dc" in i else None)


def attenuation_in_feet(i) -> float:
    in_metres = source_attenuation(i["x"] * FOOT, i["Q"], i["S"] * i["alpha"] * FOOT**2)
    return in_metres - 20 * math.log10(FOOT)


def margin_at_potential(i) -> float:
    """Run the loop of Ballou (34-5) at its potential gain and look at the levels at the microphone."""
    talker_at_1_m = 70.0
    at_microphone = level_at_distance(talker_at_1_m, i["Ds"])
    at_listener = level_at_distance(talker_at_1_m, i["D0"]) + potential(i)
    returned = level_at_distance(at_listener, i["D1"], i["D2"])
    return feedback_margin(at_microphone, returned, i["NOM"])


CALLS = {
    "10-pag-room": potential,
    "10-pag": potential,
    "10-nag-room": needed,
    "10-nag": needed,
    "10-delta": attenuation_in_feet,
    "10-nom": lambda i: open_microphone_loss(i["NOM"]),
    "10-ead": lambda i: equivalent_acoustic_distance(i["Ds"], i["L_talker_at_Ds_dB"], i["L_wanted_dB"]),
    "10-margin": margin_at_potential,
}

distances = st.floats(0.1, 100)
places = st.tuples(distances, distances, distances, distances)


@cases("acoustic_gain")
def test_published(row: Row) -> None:
    check(row, CALLS)


@given(places, distances)
def test_feet_change_nothing(place: tuple[float, ...], near: float) -> None:
    in_feet = [value / FOOT for value in place]
    assert potential_acoustic_gain(*in_feet, critical_distance_m=near / FOOT) == pytest.approx(
        potential_acoustic_gain(*place, critical_distance_m=near), abs=1e-9
    )


@given(places)
def test_a_dead_room_is_a_free_field(place: tuple[float, ...]) -> None:
    assert potential_acoustic_gain(*place, critical_distance_m=1e9) == pytest.approx(
        potential_acoustic_gain(*place), abs=1e-6
    )


@given(places)
def test_half_the_distance_to_the_microphone_gives_six_decibels(place: tuple[float, ...]) -> None:
    listener, loudspeaker, talker, far = place
    closer = potential_acoustic_gain(listener, loudspeaker, talker / 2, far)
    assert closer - potential_acoustic_gain(*place) == pytest.approx(6.0206, abs=1e-4)


@given(st.integers(1, 64))
def test_twice_the_microphones_cost_three_decibels(count: int) -> None:
    assert open_microphone_loss(2 * count) - open_microphone_loss(count) == pytest.approx(3.0103, abs=1e-4)
    assert feedback_margin(80, 60, count) - feedback_margin(80, 60, 2 * count) == pytest.approx(3.0103, abs=1e-4)


@given(distances, st.floats(40, 100))
def test_equal_levels_leave_the_distance(distance: float, level: float) -> None:
    assert equivalent_acoustic_distance(distance, level, level) == pytest.approx(distance)


@pytest.mark.parametrize(
    "call",
    [
        lambda: potential_acoustic_gain(0, 1, 1, 1),
        lambda: potential_acoustic_gain(1, 1, 1, 1, open_microphones=0),
        lambda: potential_acoustic_gain(1, 1, 1, 1, stability_margin_db=-1),
        lambda: needed_acoustic_gain(10, 0),
        lambda: needed_acoustic_gain(10, 1, 0),
        lambda: source_attenuation(0, 1, 100),
        lambda: equivalent_acoustic_distance(0, 70, 60),
        lambda: open_microphone_loss(0),
        lambda: feedback_margin(math.nan, 60),
    ],
)
def test_outside_the_range(call) -> None:
    with pytest.raises(OutOfRange):
        call()
