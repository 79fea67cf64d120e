"""What comes out of a microphone: its level for a sound, and the noise of its source resistance."""

from __future__ import annotations

import math
from typing import Final

from rigbook.physics._numeric import require
from rigbook.physics.audio_units import volts_to_dbu
from rigbook.physics.levels import REFERENCE_PA

BOLTZMANN_J_PER_K: Final = 1.380649e-23
"""Boltzmann constant, exact since 2019 (SI; CODATA 2018)."""


def microphone_output(sensitivity_v_per_pa: float, level_db: float) -> float:
    """Output level of a microphone for a sound pressure level.

    Args:
        sensitivity_v_per_pa: free-field sensitivity, V/Pa (2 mV/Pa is 0.002).
        level_db: sound pressure level at the capsule, dB re 20 µPa.
    Returns: dBu, unloaded.
    Source: IEC 60268-4 (sensitivity); 20·lg(M·p/√0.6), p = 20 µPa·10^(L/20).
    Valid: sensitivity above zero; below the level at which the microphone distorts.
    """
    require("microphone sensitivity", sensitivity_v_per_pa, "V/Pa", 0, above=True)
    require("sound pressure level", level_db, "dB", -1000, 1000)
    return volts_to_dbu(sensitivity_v_per_pa * REFERENCE_PA) + level_db


def thermal_noise(source_ohm: float, bandwidth_hz: float, temperature_c: float = 20.0) -> float:
    """Thermal noise of a source resistance: no preamplifier can be quieter with that source.

    Args:
        source_ohm: source resistance, Ω.
        bandwidth_hz: bandwidth, Hz (20 000 for the audio band).
        temperature_c: temperature of the resistance, °C.
    Returns: dBu, unloaded.
    Source: Johnson-Nyquist, √(4·k·T·R·B); k of CODATA 2018.
    Valid: resistance and bandwidth above zero, temperature from absolute zero up.
    """
    require("source resistance", source_ohm, "Ω", 0, above=True)
    require("bandwidth", bandwidth_hz, "Hz", 0, above=True)
    require("temperature", temperature_c, "°C", -273.15, above=True)
    return volts_to_dbu(math.sqrt(4 * BOLTZMANN_J_PER_K * (temperature_c + 273.15) * source_ohm * bandwidth_hz))


def equivalent_noise(self_noise_db: float, sensitivity_v_per_pa: float) -> float:
    """Output noise of a microphone from its equivalent noise level.

    Args:
        self_noise_db: equivalent noise level of the data sheet, dB(A) re 20 µPa.
        sensitivity_v_per_pa: free-field sensitivity, V/Pa.
    Returns: dBu(A).
    Source: IEC 60268-4 (equivalent sound level due to inherent noise; clause from memory).
    Valid: sensitivity above zero.
    """
    require("equivalent noise level", self_noise_db, "dB", -20)
    return microphone_output(sensitivity_v_per_pa, self_noise_db)
