"""Figures that take several formulas of the room, from the amplifier to the listener."""

from __future__ import annotations

from helpers.check_values import Row, cases, check
from rigbook.physics.air_absorption import absorption_loss, attenuation_coefficient
from rigbook.physics.amplifier_mains import mains_power
from rigbook.physics.amplifiers import power_for_volts, volts_for_power
from rigbook.physics.cable_loss import level_loss
from rigbook.physics.combs import comb_nulls, comb_ripple
from rigbook.physics.conductors import flexible_resistance, loop_resistance
from rigbook.physics.levels import distance_loss
from rigbook.physics.mains import apparent_power, single_phase_current
from rigbook.physics.sensitivity import direct_level
from rigbook.physics.speed_of_sound import speed_of_sound
from rigbook.physics.travel import travel_time


def level_at_a_listener(i) -> float:
    power_w = power_for_volts(volts_for_power(i["P_rated_W"], i["Z_ohm"]), i["Z_ohm"])
    loop_ohm = loop_resistance(flexible_resistance(i["area_mm2"]), i["length_m"], i["t_C"])
    air_db = absorption_loss(i["d_m"], attenuation_coefficient(float(i["f_Hz"]), i["t_C"], i["rh_pct"]))
    return direct_level(i["S_dB_1W_1m"], power_w, i["d_m"]) - level_loss(loop_ohm, i["Z_ohm"]) - air_db


def load_of_a_circuit(i) -> tuple[float, float, float]:
    volt_amperes = sum(
        amp["n"] * apparent_power(mains_power(2, amp["P_rated_W"], amp["efficiency"], amp["idle_W"]), amp["pf"])
        for amp in i["amps"]
    )
    amperes = single_phase_current(volt_amperes, i["V"])
    return volt_amperes, amperes, 100 * amperes / i["breaker_A"]


def two_loudspeakers_at_one_seat(i) -> tuple[float, float]:
    delay_s = travel_time(i["d2_m"] - i["d1_m"], speed_of_sound(i["t_C"]))
    second_db = i["trim2_dB"] - distance_loss(i["d2_m"], i["d1_m"])
    return comb_nulls(delay_s)[0], comb_ripple(-abs(second_db))[1]


CALLS = {
    "18-spl": level_at_a_listener,
    "18-circuit": load_of_a_circuit,
    "18-two-path": two_loudspeakers_at_one_seat,
}


@cases("whole_chains")
def test_published(row: Row) -> None:
    check(row, CALLS)
