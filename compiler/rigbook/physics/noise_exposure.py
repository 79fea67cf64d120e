"""Noise exposure: equivalent levels, doses and the times that reach a value.

Formulas only; which value applies is for local law to say (`exposure_limits`).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final

from rigbook.physics._numeric import require
from rigbook.physics.sums import energy_sum

WORKING_DAY_S: Final = 8 * 3600.0


def allowed_time(
    level_dba: float, criterion_dba: float, exchange_db: float, criterion_time_s: float = WORKING_DAY_S
) -> float:
    """Time at a steady level that reaches a criterion.

    Args:
        level_dba: A-weighted level in dB, a float.
        criterion_dba: level that reaches the criterion in the criterion's time in dB(A), a float.
        exchange_db: rise in level that halves the time in dB: 3 (NIOSH, EU, WHO, most of the world) or 5 (OSHA).
        criterion_time_s: time of the criterion in s, as a rule eight hours.
    Returns: time in s.
    Source: NIOSH publication 98-126 (1998), 1.1.2 and table 1-1; 29 CFR 1910.95, appendix A, table G-16A:
        T = Tc / 2^((L - Lc) / q).
    Valid: exchange rate above 0 dB, time above 0 s, level up to 140 dB(A).
    Errata: with 3 dB the exact doubling is 3.01 dB; the laws count 3.
    """
    _require_level(level_dba)
    _require_level(criterion_dba)
    require("exchange rate", exchange_db, "dB", 0, above=True)
    require("criterion time", criterion_time_s, "s", 0, above=True)
    return float(criterion_time_s / 2 ** ((level_dba - criterion_dba) / exchange_db))


def exposure_dose(
    exposures: Sequence[tuple[float, float]],
    criterion_dba: float,
    exchange_db: float,
    criterion_time_s: float = WORKING_DAY_S,
) -> float:
    """Dose of a day of several levels.

    Args:
        exposures: pairs of A-weighted level in dB and time in s.
        criterion_dba: in dB(A), as for `allowed_time`, like the two below.
        exchange_db: rise in level that halves the time in dB.
        criterion_time_s: time of the criterion in s.
    Returns: dose as a ratio; 1 reaches the criterion (100 %).
    Source: NIOSH publication 98-126 (1998), 1.1.3; 29 CFR 1910.95, appendix A: D = sum C / T.
    Valid: as `allowed_time`, times from 0 s.
    Errata: OSHA counts no level below 80 dB(A) (90 for its limit); leave such parts out before.
    """
    total = 0.0
    for level_dba, time_s in exposures:
        require("time", time_s, "s", 0)
        total += time_s / allowed_time(level_dba, criterion_dba, exchange_db, criterion_time_s)
    return total


def time_weighted_average(dose: float, criterion_dba: float, exchange_db: float) -> float:
    """Steady level over the criterion's time that gives a dose.

    Args:
        dose: dose as a ratio, a float.
        criterion_dba: in dB(A), as for `allowed_time`.
        exchange_db: rise in level that halves the time in dB.
    Returns: level in dB(A).
    Source: 29 CFR 1910.95, appendix A: 16.61 lg(D / 100) + 90 with D in %; 16.61 is 5 / lg 2.
    Valid: dose and exchange rate above 0.
    """
    require("dose", dose, "", 0, above=True)
    require("exchange rate", exchange_db, "dB", 0, above=True)
    return criterion_dba + exchange_db * math.log2(dose)


def equivalent_level(parts: Sequence[tuple[float, float]], period_s: float | None = None) -> float:
    """Steady level with the energy of several parts.

    Args:
        parts: pairs of level in dB (A-weighted as a rule) and time in s.
        period_s: period to which the energy is referred in s; none for the sum of the times.
    Returns: LAeq,T in dB; with a period of eight hours the daily exposure level LEX,8h.
    Source: definition of the time-averaged level, IEC 61672-1:2013, 3.9; LEX,8h: ISO 9612:2009, formulae (7), (9)
        (numbers from memory).
    Valid: at least one part of more than 0 s, period above 0 s.
    """
    times = [time_s for _, time_s in parts]
    for time_s in times:
        require("time", time_s, "s", 0)
    total_s = math.fsum(times)
    require("time of all parts", total_s, "s", 0, above=True)
    if period_s is None:
        period_s = total_s
    require("period", period_s, "s", 0, above=True)
    return energy_sum([level + 10 * math.log10(time_s / period_s) for level, time_s in parts if time_s])


def exposure_points(daily_exposure_dba: float) -> float:
    """Exposure points of one day.

    Args:
        daily_exposure_dba: daily exposure level LEP,d (LEX,8h) in dB, a float.
    Returns: points; 100 is 85 dB(A) over eight hours.
    Source: HSE (UK), noise exposure ready-reckoners, 2020: 100 * 10^((LEP,d - 85) / 10).
    Valid: up to 140 dB(A).
    Errata: the printed table rounds: 80 dB(A) is 32 points there, 31.6 here.
    """
    _require_level(daily_exposure_dba)
    return float(100 * 10 ** ((daily_exposure_dba - 85) / 10))


def weekly_exposure(points: float) -> float:
    """Weekly exposure level from the points of all days of a week.

    Args:
        points: sum of the points of the days, without unit (100 points are 85 dB(A) over 8 h), a float.
    Returns: LEP,w in dB(A), referred to five days of eight hours.
    Source: HSE (UK), weekly noise exposure ready-reckoner, 2020: 85 + 10 lg(points / 500).
    Valid: above 0 points.
    """
    require("points", points, "", 0, above=True)
    return 85 + 10 * math.log10(points / 500)


def _require_level(level_dba: float) -> None:
    require("A-weighted level", level_dba, "dB", None, 140)
