"""Audio levels in volts, watts and decibels: dBu, dBV, dBm and dBFS."""

from __future__ import annotations

import math
from typing import Final

from rigbook.physics._numeric import require

DBU_VOLTS: Final = math.sqrt(0.6)
"""0 dBu: the voltage of 1 mW in 600 Ω, 0.7746 V rms (ITU-R BS.645, annex 3; IEC 60027-3)."""

DBU_OVER_DBV: Final = -20 * math.log10(DBU_VOLTS)
"""What a level in dBu reads more than in dBV: 2.2185 dB."""


def dbu_to_volts(level_dbu: float) -> float:
    """Voltage of a level in dBu.

    Args:
        level_dbu: level, dBu.
    Returns: V rms.
    Source: ITU-R BS.645, annex 3 (dBu re 0.775 V); IEC 60027-3. V = √0.6 · 10^(L/20).
    Valid: -1000 to 1000.
    """
    require("level", level_dbu, "dBu", -1000, 1000)
    return float(DBU_VOLTS * 10 ** (level_dbu / 20))


def volts_to_dbu(volts: float) -> float:
    """Level in dBu of a voltage.

    Args:
        volts: V rms.
    Returns: dBu.
    Source: as `dbu_to_volts`.
    Valid: above zero.
    """
    require("voltage", volts, "V", 0, above=True)
    return 20 * math.log10(volts / DBU_VOLTS)


def dbv_to_volts(level_dbv: float) -> float:
    """Voltage of a level in dBV.

    Args:
        level_dbv: level, dBV.
    Returns: V rms.
    Source: IEC 60027-3 (dBV re 1 V).
    Valid: -1000 to 1000.
    """
    require("level", level_dbv, "dBV", -1000, 1000)
    return float(10 ** (level_dbv / 20))


def volts_to_dbv(volts: float) -> float:
    """Level in dBV of a voltage.

    Args:
        volts: V rms.
    Returns: dBV.
    Source: IEC 60027-3 (dBV re 1 V).
    Valid: above zero.
    """
    require("voltage", volts, "V", 0, above=True)
    return 20 * math.log10(volts)


def dbv_to_dbu(level_dbv: float) -> float:
    """Level in dBu of a level in dBV.

    Args:
        level_dbv: level, dBV.
    Returns: dBu.
    Source: both references, ITU-R BS.645 annex 3 and IEC 60027-3: 2.2185 dB more.
    Valid: -1000 to 1000.
    """
    require("level", level_dbv, "dBV", -1000, 1000)
    return level_dbv + DBU_OVER_DBV


def dbu_to_dbv(level_dbu: float) -> float:
    """Level in dBV of a level in dBu.

    Args:
        level_dbu: level, dBu.
    Returns: dBV.
    Source: as `dbv_to_dbu`.
    Valid: -1000 to 1000.
    """
    require("level", level_dbu, "dBu", -1000, 1000)
    return level_dbu - DBU_OVER_DBV


def watts_to_dbm(power_w: float) -> float:
    """Power level re 1 mW.

    Args:
        power_w: power, W.
    Returns: dBm.
    Source: IEC 60027-3, 10·lg(P/1 mW).
    Valid: above zero.
    """
    require("power", power_w, "W", 0, above=True)
    return 10 * math.log10(power_w * 1000)


def dbm_to_watts(level_dbm: float) -> float:
    """Power of a level re 1 mW.

    Args:
        level_dbm: level, dBm.
    Returns: W.
    Source: as `watts_to_dbm`.
    Valid: -1000 to 1000.
    """
    require("level", level_dbm, "dBm", -1000, 1000)
    return float(10 ** (level_dbm / 10) / 1000)


def full_scale_dbu(level_dbfs: float, level_dbu: float) -> float:
    """Analogue level of digital full scale, from one pair of levels that belong together.

    Args:
        level_dbfs: digital level of the alignment, dBFS (zero or below).
        level_dbu: analogue level of the same signal, dBu.
    Returns: dBu at 0 dBFS.
    Source: definition; EBU R68-2000 (-18 dBFS is 0 dBu), SMPTE RP 0155 (-20 dBFS is +4 dBu).
    Valid: -1000 to 1000.
    """
    require("digital level", level_dbfs, "dBFS", -1000, 1000)
    require("analogue level", level_dbu, "dBu", -1000, 1000)
    return level_dbu - level_dbfs


def dbfs_to_dbu(level_dbfs: float, full_scale: float) -> float:
    """Analogue level of a digital one.

    Args:
        level_dbfs: digital level, dBFS.
        full_scale: analogue level at 0 dBFS, dBu.
    Returns: dBu.
    Source: as `full_scale_dbu`.
    Valid: -1000 to 1000.
    """
    require("digital level", level_dbfs, "dBFS", -1000, 1000)
    require("full scale", full_scale, "dBu", -1000, 1000)
    return level_dbfs + full_scale


def dbu_to_dbfs(level_dbu: float, full_scale: float) -> float:
    """Digital level of an analogue one; above 0 dBFS the converter clips.

    Args:
        level_dbu: analogue level, dBu.
        full_scale: analogue level at 0 dBFS, dBu.
    Returns: dBFS.
    Source: as `full_scale_dbu`.
    Valid: -1000 to 1000.
    """
    require("analogue level", level_dbu, "dBu", -1000, 1000)
    require("full scale", full_scale, "dBu", -1000, 1000)
    return level_dbu - full_scale
