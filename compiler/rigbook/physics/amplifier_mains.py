"""What an amplifier takes from the mains with music, and the heat it leaves in the rack."""

from __future__ import annotations

import math
from typing import Final

from rigbook.physics._numeric import require

EIGHTH: Final = 1 / 8
"""Share of the rated power that stands for loud music: IEC/EN 60065, 4.2; carried into IEC 62368-1, annex E
(clauses from memory)."""

WATTS_PER_BTU_PER_HOUR: Final = 0.29307107
"""One BTU (international table) an hour, in W: NIST Special Publication 811, appendix B (from memory)."""


def duty_level(share: float = EIGHTH) -> float:
    """Level of a share of rated power.

    Args:
        share: average output power over rated power.
    Returns: dB re rated power.
    Source: definition, 10·lg(share); the eighth: IEC/EN 60065, 4.2 (clause from memory).
    Valid: above 0 to 1.
    """
    require("share of rated power", share, "", 0, 1, above=True)
    return 10 * math.log10(share)


def mains_power(
    channels: int, rated_power_w: float, efficiency: float, idle_w: float = 0.0, share: float = EIGHTH
) -> float:
    """Power that an amplifier takes from the mains.

    Args:
        channels: number of channels in use.
        rated_power_w: rated output power of each channel into its load, W.
        efficiency: ratio of the output power to the power taken beyond idle.
        idle_w: power taken without signal, W.
        share: average output power over rated power.
    Returns: W.
    Source: IEC/EN 60065, 4.2 for the eighth (clause from memory); the model idle + n·P·share/η is common practice.
    Valid: efficiency above 0 to 1, share 0 to 1, no negative numbers.
    """
    require("efficiency", efficiency, "", 0, 1, above=True)
    return idle_w + _output(channels, rated_power_w, idle_w, share) / efficiency


def heat(channels: int, rated_power_w: float, efficiency: float, idle_w: float = 0.0, share: float = EIGHTH) -> float:
    """Power that an amplifier turns into heat where it stands.

    Args:
        channels: number of channels in use.
        rated_power_w: rated output power of each channel into its load, W.
        efficiency: ratio of the output power to the power taken beyond idle.
        idle_w: power taken without signal, W.
        share: average output power over rated power.
    Returns: W.
    Source: conservation of energy: what comes in from the mains and does not leave for the loudspeakers.
    Valid: as `mains_power`.
    """
    taken_w = mains_power(channels, rated_power_w, efficiency, idle_w, share)
    return taken_w - _output(channels, rated_power_w, idle_w, share)


def btu_per_hour(power_w: float) -> float:
    """Heat flow in BTU an hour, as air conditioning is rated in some countries.

    Args:
        power_w: heat flow, W.
    Returns: BTU/h.
    Source: NIST Special Publication 811, appendix B (from memory): 1 W is 3.412 BTU/h.
    Valid: zero or more.
    """
    require("power", power_w, "W", 0)
    return power_w / WATTS_PER_BTU_PER_HOUR


def _output(channels: int, rated_power_w: float, idle_w: float, share: float) -> float:
    require("number of channels", channels, "", 0)
    require("rated power", rated_power_w, "W", 0)
    require("idle power", idle_w, "W", 0)
    require("share of rated power", share, "", 0, 1)
    return channels * rated_power_w * share
