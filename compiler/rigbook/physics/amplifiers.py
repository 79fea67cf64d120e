"""Power amplifiers: volts and watts, gain, the input that brings rated power, limiters and clipping."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise
from typing import Final

from rigbook.physics._numeric import require
from rigbook.physics.audio_units import dbu_to_volts, volts_to_dbu

SAME_LOAD: Final = 0.005
"""Loads that differ by no more, as a share, are one load: what rounding to two places leaves (ours)."""


def volts_for_power(power_w: float, load_ohm: float) -> float:
    """Voltage that brings a power into a load.

    Args:
        power_w: average power, W.
        load_ohm: impedance, Ω.
    Returns: V rms.
    Source: Ohm's law, V = √(P·Z); IEC 60268-5 uses it with the nominal impedance.
    Valid: power zero or more, load above zero.
    """
    require("power", power_w, "W", 0)
    require("load impedance", load_ohm, "Ω", 0, above=True)
    return math.sqrt(power_w * load_ohm)


def power_for_volts(volts: float, load_ohm: float) -> float:
    """Power that a voltage brings into a load.

    Args:
        volts: V rms.
        load_ohm: impedance, Ω.
    Returns: W.
    Source: Ohm's law, P = V²/Z.
    Valid: voltage zero or more, load above zero.
    """
    require("voltage", volts, "V", 0)
    require("load impedance", load_ohm, "Ω", 0, above=True)
    return volts**2 / load_ohm


def rated_power(points: Sequence[tuple[float, float]], load_ohm: float) -> float:
    """Rated power into a load, between the loads for which it is declared.

    Args:
        points: (load in Ω, rated power in W) pairs of one mode, in any order.
        load_ohm: impedance of the load, Ω.
    Returns: W.
    Source: ours: interpolated on logarithmic scales, which is exact for an amplifier whose voltage stays the same.
    Valid: from the lowest to the highest declared load; nothing is assumed outside. A load outside by no more
        than 0.5 % counts as the end, since makers round too: three boxes of 8 Ω are 2.667 Ω, and declared as 2.67 Ω.
    """
    known = sorted(points)
    for ohm, power_w in known:
        require("declared load", ohm, "Ω", 0, above=True)
        require("declared power", power_w, "W", 0, above=True)
    require("number of declared loads", len(known), "", 1)
    for ohm, power_w in (known[0], known[-1]):
        if math.isclose(ohm, load_ohm, rel_tol=SAME_LOAD) and not known[0][0] < load_ohm < known[-1][0]:
            return power_w
    require("load impedance", load_ohm, "Ω", known[0][0], known[-1][0])
    low, high = next((a, b) for a, b in pairwise(known) if a[0] <= load_ohm <= b[0])
    share = math.log(load_ohm / low[0]) / math.log(high[0] / low[0])
    return float(low[1] * (high[1] / low[1]) ** share)


def bridged_power(half_power_w: float) -> float:
    """Power of a bridged pair, from the power of one channel into half the load.

    Args:
        half_power_w: rated power of one channel into half the bridged load, W.
    Returns: W into the whole load.
    Source: circuit theory: twice the voltage of one channel, each channel loaded with half the impedance.
    Valid: zero or more.
    """
    require("power of one channel", half_power_w, "W", 0)
    return 2 * half_power_w


def gain_from_sensitivity(sensitivity_dbu: float, power_w: float, load_ohm: float) -> float:
    """Voltage gain of an amplifier from its input sensitivity and rated power.

    Args:
        sensitivity_dbu: input level that brings rated power, dBu.
        power_w: rated power, W.
        load_ohm: load to which that power belongs, Ω.
    Returns: dB.
    Source: Ohm's law and the dBu reference, 20·lg(√(P·Z)/Vin).
    Valid: power and load above zero.
    """
    require("power", power_w, "W", 0, above=True)
    return 20 * math.log10(volts_for_power(power_w, load_ohm) / dbu_to_volts(sensitivity_dbu))


def input_for_power(gain_db: float, power_w: float, load_ohm: float) -> float:
    """Input level at which an amplifier delivers a power.

    Args:
        gain_db: voltage gain, dB.
        power_w: power, W.
        load_ohm: load, Ω.
    Returns: dBu.
    Source: Ohm's law and the dBu reference.
    Valid: power and load above zero.
    """
    require("gain", gain_db, "dB", -1000, 1000)
    require("power", power_w, "W", 0, above=True)
    return volts_to_dbu(volts_for_power(power_w, load_ohm)) - gain_db


def power_at_input(gain_db: float, level_dbu: float, load_ohm: float) -> float:
    """Power that an input level brings, as long as the amplifier does not clip.

    Args:
        gain_db: voltage gain, dB.
        level_dbu: input level, dBu.
        load_ohm: load, Ω.
    Returns: W.
    Source: Ohm's law and the dBu reference.
    Valid: load above zero.
    """
    require("gain", gain_db, "dB", -1000, 1000)
    return power_for_volts(dbu_to_volts(level_dbu + gain_db), load_ohm)


def limiter_volts(power_w: float, impedance_ohm: float, crest_db: float = 0.0) -> float:
    """Voltage at the loudspeaker above which a limiter should act.

    Args:
        power_w: power that the loudspeaker can take for the limiter's time constant, W.
        impedance_ohm: nominal impedance of the loudspeaker, Ω.
        crest_db: 0 for a limiter of the rms value; for a peak limiter the crest factor of the test signal behind
            the power rating, dB.
    Returns: V, rms or peak.
    Source: IEC 60268-5 (power ratings as U²/R with the nominal impedance); Ohm's law.
    Valid: power and impedance above zero, crest factor 0 to 20 dB.
    """
    require("power", power_w, "W", 0, above=True)
    require("crest factor", crest_db, "dB", 0, 20)
    return float(volts_for_power(power_w, impedance_ohm) * 10 ** (crest_db / 20))


def power_at_clip(rated_power_w: float, crest_db: float) -> float:
    """Average power of a programme whose peaks just clip an amplifier.

    Args:
        rated_power_w: rated power with a sine, W.
        crest_db: crest factor of the programme (peak to rms), dB.
    Returns: W.
    Source: definition of the crest factor (sine 3.01 dB), P = 2·P_rated/10^(CF/10).
    Valid: power zero or more, crest factor 0 to 40 dB.
    """
    require("rated power", rated_power_w, "W", 0)
    require("crest factor", crest_db, "dB", 0, 40)
    return float(2 * rated_power_w / 10 ** (crest_db / 10))
