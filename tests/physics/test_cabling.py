from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from helpers.check_values import Row, cases, check
from rigbook.physics.cabling import (
    aes3_impedance,
    cable_corner,
    cable_delay,
    reference_length,
    treble_loss,
    xlr_pin,
)
from rigbook.physics.errors import OutOfRange

CONSTANTS = {
    "longest balanced channel, Cat 5e and up": lambda: reference_length("network channel"),
    "longest permanent link within that channel": lambda: reference_length("network permanent link"),
    "cords within that channel": lambda: reference_length("network cords"),
    "AES3 cable characteristic impedance": aes3_impedance,
    "AES3 balanced cable length at frame rates up to 50 kHz, without equalisation": lambda: reference_length("aes3"),
    "XLR pin that carries the positive-going signal": lambda: xlr_pin("positive"),
    "XLR pin of the screen": lambda: xlr_pin("screen"),
}


def corner(i):
    return cable_corner(i["Zs_ohm"], i["C_pF_per_m"] * 1e-12, i["L_m"])


CALLS = {
    "14-rc": corner,
    "14-treble": lambda i: treble_loss(i["Zs_ohm"], i["C_pF_per_m"] * 1e-12, i["L_m"], i["f_Hz"]),
    "14-netdelay": lambda i: cable_delay(i["L_m"], i["vf"]) * 1e9,
}


@cases("cabling")
def test_published(row: Row) -> None:
    check(row, {**CALLS, "14-const": lambda i: CONSTANTS[row["quantity"]]()})


def test_the_parts_of_a_channel_make_the_whole() -> None:
    parts = reference_length("network permanent link") + reference_length("network cords")
    assert parts == reference_length("network channel")


def test_each_pin_once() -> None:
    assert {xlr_pin(leg) for leg in ("screen", "positive", "negative")} == {1, 2, 3}


@given(st.floats(1, 1e4), st.floats(1e-12, 1e-9), st.floats(0.1, 1000))
def test_the_corner_is_three_decibels_down(source_ohm: float, farad_per_m: float, length_m: float) -> None:
    corner_hz = cable_corner(source_ohm, farad_per_m, length_m)
    assert treble_loss(source_ohm, farad_per_m, length_m, corner_hz) == pytest.approx(3.0103, abs=1e-4)
    assert treble_loss(source_ohm, farad_per_m, length_m, 0) == 0


@pytest.mark.parametrize(
    "call",
    [
        lambda: cable_corner(0, 1e-10, 10),
        lambda: cable_corner(150, 1e-10, 0),
        lambda: treble_loss(150, 1e-10, 10, -1),
        lambda: cable_delay(-1, 0.64),
        lambda: cable_delay(100, 0),
        lambda: cable_delay(100, 1.1),
    ],
)
def test_outside_the_range(call) -> None:
    with pytest.raises(OutOfRange):
        call()
