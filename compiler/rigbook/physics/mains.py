"""Mains: currents of one and three phases, the neutral, the rule for continuous loads, and the drop along a cable."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final, Literal, NamedTuple

from rigbook.physics._numeric import require

CONTINUOUS_SHARE: Final = 0.8
"""Share of a protective device's rating that a continuous load may use: NEC (NFPA 70) 210.20(A), 1/1.25."""


class VoltageDrop(NamedTuple):
    """What a supply cable loses."""

    volts: float
    """V; for three phases between line and neutral."""
    share: float
    """Share of the supply voltage, 0 to 1."""


def single_phase_current(power_w: float, volts: float, power_factor: float = 1.0) -> float:
    """Current of a single-phase load.

    Args:
        power_w: active power, W.
        volts: supply voltage, V rms.
        power_factor: power factor of the load.
    Returns: A rms.
    Source: definition, I = P/(V·λ).
    Valid: power zero or more, voltage above zero, power factor above 0 to 1.
    """
    require("supply voltage", volts, "V", 0, above=True)
    return apparent_power(power_w, power_factor) / volts


def three_phase_current(power_w: float, line_volts: float, power_factor: float = 1.0) -> float:
    """Current in each line of a balanced three-phase load.

    Args:
        power_w: active power of all three phases together, W.
        line_volts: voltage from line to line, V rms.
        power_factor: power factor of the load.
    Returns: A rms.
    Source: circuit theory, I = P/(√3·V·λ).
    Valid: as `single_phase_current`.
    """
    require("supply voltage", line_volts, "V", 0, above=True)
    return apparent_power(power_w, power_factor) / (math.sqrt(3) * line_volts)


def apparent_power(power_w: float, power_factor: float = 1.0) -> float:
    """Apparent power of a load.

    Args:
        power_w: active power, W.
        power_factor: power factor of the load.
    Returns: VA.
    Source: definition of the power factor, S = P/λ.
    Valid: power zero or more, power factor above 0 to 1.
    """
    require("power", power_w, "W", 0)
    require("power factor", power_factor, "", 0, 1, above=True)
    return power_w / power_factor


def phase_voltage(line_volts: float) -> float:
    """Voltage from line to neutral of a three-phase supply.

    Args:
        line_volts: voltage from line to line, V rms.
    Returns: V rms.
    Source: circuit theory, V/√3.
    Valid: zero or more.
    """
    require("supply voltage", line_volts, "V", 0)
    return line_volts / math.sqrt(3)


def largest_continuous_load(rating_a: float) -> float:
    """Largest continuous load (three hours or more) on a branch circuit.

    Args:
        rating_a: rating of the protective device, A.
    Returns: A.
    Source: NEC (NFPA 70) 210.20(A): the rating is at least 125 % of the continuous load.
    Valid: zero or more; where that code applies. Elsewhere the local code decides.
    """
    require("rating of the protective device", rating_a, "A", 0)
    return rating_a * CONTINUOUS_SHARE


def smallest_rating(continuous_a: float, noncontinuous_a: float = 0.0) -> float:
    """Smallest rating of a protective device for a mixed load.

    Args:
        continuous_a: continuous load, A.
        noncontinuous_a: all other load, A.
    Returns: A; take the next size that exists.
    Source: NEC (NFPA 70) 210.20(A): non-continuous plus 125 % of the continuous load.
    Valid: zero or more; where that code applies.
    """
    require("continuous load", continuous_a, "A", 0)
    require("other load", noncontinuous_a, "A", 0)
    return noncontinuous_a + continuous_a / CONTINUOUS_SHARE


def voltage_drop(
    ohm_per_m: float, length_m: float, current_a: float, supply_volts: float, phases: Literal[1, 3] = 1
) -> VoltageDrop:
    """Voltage lost along a supply cable.

    Args:
        ohm_per_m: resistance of one core at its temperature, Ω/m.
        length_m: length of the cable, m.
        current_a: current in each line, A rms.
        supply_volts: voltage from line to neutral, V rms.
        phases: 1 for line and neutral; 3 for a balanced load, whose neutral carries nothing.
    Returns: volts and share.
    Source: Ohm's law, b·L·R'·I, b = 2 for one phase and 1 for three (IEC 60364-5-52, annex G, from memory).
    Valid: resistive load; the reactance of the cable is left out, which common practice accepts up to 35 mm².
    """
    require("conductor resistance", ohm_per_m, "Ω/m", 0, above=True)
    require("cable length", length_m, "m", 0)
    require("current", current_a, "A", 0)
    require("supply voltage", supply_volts, "V", 0, above=True)
    volts = (2 if phases == 1 else 1) * length_m * ohm_per_m * current_a
    return VoltageDrop(volts, volts / supply_volts)


def neutral_current(a_a: float, b_a: float, c_a: float) -> float:
    """Current in the neutral of a three-phase supply with unlike loads.

    Args:
        a_a: current in the first line, A rms.
        b_a: current in the second line, A rms.
        c_a: current in the third line, A rms.
    Returns: A rms.
    Source: circuit theory (phasors 120° apart), √(a² + b² + c² - ab - bc - ca).
    Valid: zero or more; all of one power factor and without harmonics.
    Errata: rectifier loads (amplifiers, lamps) add third harmonics in the neutral; it can then carry more than this,
        and more than a line.
    """
    for current_a in (a_a, b_a, c_a):
        require("current", current_a, "A", 0)
    return math.sqrt(((a_a - b_a) ** 2 + (b_a - c_a) ** 2 + (c_a - a_a) ** 2) / 2)


def phase_unbalance(currents_a: Sequence[float]) -> float:
    """Unbalance of the loads on the phases.

    Args:
        currents_a: current in each line, A rms, two or three.
    Returns: largest deviation from the mean, as a share of the mean; 0 where nothing flows.
    Source: NEMA MG 1 (definition for voltages, clause from memory), used for currents by common practice.
    Valid: zero or more each.
    """
    require("number of phases", len(currents_a), "", 2)
    for current_a in currents_a:
        require("current", current_a, "A", 0)
    mean_a = sum(currents_a) / len(currents_a)
    return max(abs(a - mean_a) for a in currents_a) / mean_a if mean_a else 0.0
