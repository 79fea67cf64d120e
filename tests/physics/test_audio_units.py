from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from helpers.check_values import Row, cases, check
from rigbook.physics.audio_units import (
    dbfs_to_dbu,
    dbm_to_watts,
    dbu_to_dbfs,
    dbu_to_dbv,
    dbu_to_volts,
    dbv_to_dbu,
    dbv_to_volts,
    full_scale_dbu,
    volts_to_dbu,
    volts_to_dbv,
    watts_to_dbm,
)
from rigbook.physics.errors import OutOfRange


def alignment(text: str) -> tuple[float, float]:
    """Both levels of a line such as `-18 dBFS = 0 dBu`."""
    dbfs, dbu = re.fullmatch(r"(\S+) dBFS = (\S+) dBu", text).groups()  # type: ignore[union-attr]
    return float(dbfs), float(dbu)


CALLS = {
    "05-dbu-v": lambda i: dbu_to_volts(i["dBu"]),
    "05-v-dbu": lambda i: volts_to_dbu(i["V"]),
    "05-dbv-v": lambda i: dbv_to_volts(i["dBV"]),
    "05-v-dbv": lambda i: volts_to_dbv(i["V"]),
    "05-dbv-dbu": lambda i: dbv_to_dbu(i["dBV"]),
    "05-dbu-dbv": lambda i: dbu_to_dbv(i["dBu"]),
    "05-dbm": lambda i: watts_to_dbm(i["P_W"]),
    "05-dbm-w": lambda i: dbm_to_watts(i["dBm"]),
    "05-dbfs": lambda i: full_scale_dbu(*alignment(i["alignment"])),
    "05-dbfs-dbu": lambda i: dbfs_to_dbu(i["dBFS"], i["full_scale_dBu"]),
    "05-dbu-dbfs": lambda i: dbu_to_dbfs(i["dBu"], i["full_scale_dBu"]),
}
levels = st.floats(-200, 200)


@cases("audio_units")
def test_published(row: Row) -> None:
    check(row, CALLS)


@given(levels)
def test_there_and_back(level: float) -> None:
    assert volts_to_dbu(dbu_to_volts(level)) == pytest.approx(level, abs=1e-9)
    assert volts_to_dbv(dbv_to_volts(level)) == pytest.approx(level, abs=1e-9)
    assert watts_to_dbm(dbm_to_watts(level)) == pytest.approx(level, abs=1e-9)
    assert dbu_to_dbv(dbv_to_dbu(level)) == pytest.approx(level, abs=1e-9)


@given(levels)
def test_dbm_in_600_ohm_is_dbu(level: float) -> None:
    assert dbu_to_volts(level) ** 2 / 600 == pytest.approx(dbm_to_watts(level))


@given(levels)
def test_one_voltage_has_one_pair_of_levels(level: float) -> None:
    assert dbv_to_volts(level) == pytest.approx(dbu_to_volts(dbv_to_dbu(level)))


@given(levels, levels)
def test_an_alignment_maps_its_own_levels(dbfs: float, dbu: float) -> None:
    scale = full_scale_dbu(dbfs, dbu)
    assert dbfs_to_dbu(dbfs, scale) == pytest.approx(dbu, abs=1e-9)
    assert dbu_to_dbfs(dbu, scale) == pytest.approx(dbfs, abs=1e-9)


@pytest.mark.parametrize("wrong", [float("nan"), float("inf"), 2000.0])
@pytest.mark.parametrize("call", [dbu_to_volts, dbv_to_volts, dbm_to_watts, dbv_to_dbu, dbu_to_dbv])
def test_levels_out_of_range(call, wrong: float) -> None:
    with pytest.raises(OutOfRange):
        call(wrong)


@pytest.mark.parametrize("wrong", [0.0, -1.0, float("nan")])
@pytest.mark.parametrize("call", [volts_to_dbu, volts_to_dbv, watts_to_dbm])
def test_nothing_has_no_level(call, wrong: float) -> None:
    with pytest.raises(OutOfRange):
        call(wrong)
