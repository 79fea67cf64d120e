"""Levels that people get, against the venue's limit and the published values. Which of them binds is for local law."""

from __future__ import annotations

from typing import Final

from rigbook.compute.figure import Figure, Input, Missing, Result, worked
from rigbook.compute.levels import Levels
from rigbook.compute.places import Places
from rigbook.physics.exposure_limits import EXPOSURE_LIMITS
from rigbook.physics.noise_exposure import allowed_time, equivalent_level, exposure_dose
from rigbook.plan.model import Plan
from rigbook.records import frozen
from rigbook.text.phrase import phrase
from rigbook.units.quantity import Amount

DAY_S = 8 * 3600.0
WEEK_MIN = 7 * 24 * 60.0
"""Tables of daily exposure end at a day or two (29 CFR 1910.95, table G-16A: 32 h); a year says nothing of a day."""
AUDIENCE: Final = EXPOSURE_LIMITS["WHO venues and events"]
"""The published value that speaks of audiences, not of work."""


@frozen
class Reached:
    """When a published value is reached at a place."""

    name: str
    source: str
    time: Result
    """Time at programme level that reaches it, minutes."""


@frozen
class Exposure:
    """What someone gets who stays at one place for the show."""

    where: str
    level: Figure
    dose: Result
    """NIOSH dose of the show, %."""
    daily: Result
    """The show's part of the daily exposure level, LEX,8h."""
    reached: tuple[Reached, ...]
    audience: Figure
    """The level against the published value for audiences, which is an average over minutes; above 0 it is over it."""


def exposures(plan: Plan, levels: Levels) -> tuple[Exposure, ...]:
    """For each place where the level is judged."""
    length = plan.get("length")
    seconds = float(length.value) if length is not None else None
    return tuple(_exposure(where, level, seconds) for where, level in levels.spots)


def noise_limit(places: Places) -> float | None:
    """The venue's limit at the mix position, dB(A)."""
    got = places.room.get("noise-limit") if places.room else None
    return float(got.value) if got is not None else None


def _exposure(where: str, level: Figure, seconds: float | None) -> Exposure:
    inputs = (("level", level.value, "dB(A)"), ("length of the show", (seconds or 0) / 3600, "h"))
    if seconds is None:
        dose: Result = Missing(phrase("the plan gives no length of the show"))
        daily: Result = dose
    else:
        steady = (phrase("programme level for the whole length"),)
        criterion = phrase("NIOSH recommended exposure limit, 85 dB(A) over 8 h, 3 dB exchange")
        dose = worked(
            lambda: Figure(100 * exposure_dose([(level.value, seconds)], 85, 3), "%", criterion, inputs, steady, 0)
        )
        daily = worked(
            lambda: Figure(
                equivalent_level([(level.value, seconds)], DAY_S), "dB(A)", phrase("LEX,8h, ISO 9612"), inputs, steady
            )
        )
    reached = tuple(
        Reached(name, limit.source, _time(level.value, limit.level_dba, limit.exchange_db, limit.time_s))
        for name, limit in EXPOSURE_LIMITS.items()
        if limit.exchange_db
    )
    return Exposure(where, level, dose, daily, reached, _audience(level))


def _audience(level: Figure) -> Figure:
    over = phrase(
        "level less %(value)s, averaged over %(time)s",
        value=Amount(f"{AUDIENCE.level_dba:g}", "dB(A)"),
        time=Amount(f"{AUDIENCE.time_s / 60:g}", "min"),
    )
    inputs = (("level", level.value, "dB(A)"), ("value", AUDIENCE.level_dba, "dB(A)"))
    steady = (phrase("programme level for the whole length"),)
    return Figure(level.value - AUDIENCE.level_dba, "dB", over, inputs, steady)


def _time(level: float, criterion: float, exchange: float, period_s: float) -> Result:
    inputs = (("level", level, "dB(A)"), ("criterion", criterion, "dB(A)"), ("exchange rate", exchange, "dB"))
    how = phrase("T = Tc / 2^((L − Lc)/q)")
    got = worked(lambda: _minutes(allowed_time(level, criterion, exchange, period_s) / 60, how, inputs))
    return Missing(phrase("not within a week")) if isinstance(got, Figure) and got.value > WEEK_MIN else got


def _minutes(minutes: float, how: str, inputs: tuple[Input, ...]) -> Figure:
    """A time in minutes; of a short one the places that tell half a minute from none."""
    return Figure(minutes, "min", how, inputs, (), 0 if minutes >= 10 else 1 if minutes >= 1 else 2)
