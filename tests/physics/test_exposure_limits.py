from __future__ import annotations

import pytest

from helpers.check_values import Row, cases, check
from rigbook.physics.exposure_limits import EXPOSURE_LIMITS, exposure_limit
from rigbook.physics.levels import sound_pressure_level


def eu(i) -> dict[str, float]:
    limit = exposure_limit(f"EU {i['value']}")
    assert limit.peak_pa is not None
    return {
        "LEX8h_dBA": limit.level_dba,
        "ppeak_Pa": limit.peak_pa,
        "LCpeak_dB": round(sound_pressure_level(limit.peak_pa)),
    }


def venues(i) -> float:
    limit = exposure_limit("WHO venues and events")
    assert limit.time_s == 15 * 60
    return limit.level_dba


CALLS = {"11-eu": eu, "11-who": venues}


@cases("exposure_limits")
def test_published(row: Row) -> None:
    check(row, CALLS)


@pytest.mark.parametrize("name", sorted(EXPOSURE_LIMITS))
def test_each_has_a_source(name: str) -> None:
    assert exposure_limit(name).source


def test_an_unknown_value() -> None:
    with pytest.raises(KeyError):
        exposure_limit("nowhere")
