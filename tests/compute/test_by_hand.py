"""Figures of `build --data` against a few lines of arithmetic of their own, from what the shows and the gear say.

Nothing here calls the project's formulas: each line cites where the relation comes from.
"""

from __future__ import annotations

import math
from functools import cache
from typing import Any

import pytest

from helpers.tools import ROOT
from rigbook.compute.data import data
from rigbook.pipeline import compile_plan


@cache
def _data(show: str) -> dict[str, Any]:
    rig = compile_plan(ROOT / "shows" / f"{show}.yaml", ROOT).rig
    assert rig is not None
    return data(rig)


def _row(rows: list[dict[str, Any]], **wanted: object) -> dict[str, Any]:
    return next(r for r in rows if all(r[k] == v for k, v in wanted.items()))


def test_load_and_limiter() -> None:
    # one 8 ohm box of 350 W continuous: U = sqrt(P Z); dBu re 0.7746 V; 33 dB of gain in the amplifier
    row = _row(_data("festival/meadow")["amplifiers"], socket="amp-delays/out A")
    assert row["load"]["value"] == pytest.approx(8.0)
    volts = math.sqrt(350 * 8)
    assert row["limiter"]["value"] == pytest.approx(volts)
    assert row["limiter_input"]["value"] == pytest.approx(20 * math.log10(volts / 0.7745967) - 33, abs=1e-4)


def test_cable_loss() -> None:
    # 25 m of 4 mm2: 4.95 ohm/km for class 5 cores (IEC 60228, table 3), there and back, before 8 ohm
    row = _row(_data("festival/meadow")["cables"], box="delay-left")
    loop = 2 * 25 * 4.95e-3
    assert row["loop"]["value"] == pytest.approx(loop)
    assert row["loss"]["value"] == pytest.approx(20 * math.log10((8 + loop) / 8))
    assert row["damping"]["value"] == pytest.approx(8 / (8 / 300 + loop))


def test_delay() -> None:
    # speed of sound of an ideal gas, c = sqrt(1.402 R T / M), with M = 28.96 g/mol (ISO 9613-1 takes 343.2 at 20 degC)
    c = math.sqrt(1.402 * 8.314462 * (273.15 + 21) / 0.028964)
    row = _row(_data("festival/meadow")["delays"], box="delay-left")
    far, near = row["main_distance"]["value"], row["own_distance"]["value"]
    assert row["main_time"]["value"] == pytest.approx(1000 * far / c, rel=2e-3)
    assert row["wanted"]["value"] == pytest.approx(1000 * (far - near) / c + 10, rel=2e-3)


def test_rack_weight() -> None:
    # rack 44 kg, two splitters of 19 kg, stage boxes of 11 and 5 kg, four people
    row = _row(_data("festival/meadow")["racks"], rack="split-rack")
    assert row["weight"]["value"] == 44 + 2 * 19 + 11 + 5
    assert row["per_lifter"]["value"] == pytest.approx((44 + 2 * 19 + 11 + 5) / 4)


def test_critical_distance() -> None:
    # Molloy: Q = 180 / asin(sin(h/2) sin(v/2)); rc = 0.057 sqrt(Q V / T), the constant as in Kuttruff, Room Acoustics
    q = 180 / math.degrees(math.asin(math.sin(math.radians(60)) * math.sin(math.radians(15))))
    row = _row(_data("chapel/lessons-and-songs")["room"], box="column-left")
    assert row["critical"]["value"] == pytest.approx(0.057 * math.sqrt(q * 9 * 21 * 8 / 1.9), rel=0.01)


def test_acoustic_gain() -> None:
    # Hopkins and Stryker: level falls by 10 lg(1/d^2 + 1/rc^2); gain before feedback is the sum of four such paths
    chapel = _data("chapel/lessons-and-songs")
    row = _row(chapel["feedback"], channel=1, box="column-left")
    rc = _row(chapel["room"], box="column-left")["critical"]["value"]
    said = {i["name"]: i["value"] for i in row["potential"]["inputs"]}
    heard = {i["name"]: i["value"] for i in row["needed"]["inputs"]}

    def fall(d: float, off_axis_db: float = 0.0) -> float:
        return -10 * math.log10(10 ** (-off_axis_db / 10) / d**2 + 1 / rc**2)

    needed = fall(heard["talker to farthest listener"]) - fall(heard["distance it should seem"])
    assert row["needed"]["value"] == pytest.approx(needed, abs=0.02)
    possible = (
        fall(said["box to microphone"], said["loss beside the axis"])
        + fall(heard["talker to farthest listener"])
        - fall(said["box to farthest listener"])
        - fall(said["talker to microphone"])
        - 10 * math.log10(said["open microphones"])
        - said["stability margin"]
    )
    assert row["potential"]["value"] == pytest.approx(possible, abs=0.05)


def test_current_and_voltage_drop() -> None:
    # 220 W desk, 15 W player, 410 W amplifier at 1/8 power, on 230 V; 60 m of 2.5 mm2: 7.98 ohm/km (IEC 60228, class 5)
    row = _row(_data("festival/meadow")["mains"]["circuits"], name="meadow-mix")
    amps = (220 + 15 + 410) / 230
    assert row["eighth"]["value"] == pytest.approx(amps)
    assert row["drop"]["value"] == pytest.approx(100 * 2 * 60 * 7.98e-3 * amps / 230, rel=1e-3)


def test_dose() -> None:
    # NIOSH 98-126: 100 % for 8 h at 85 dB(A), twice that for each 3 dB; ISO 9612: LEX,8h = L + 10 lg(T / 8 h)
    row = _data("festival/meadow")["exposure"][0]
    level = row["level"]["value"]
    assert row["dose"]["value"] == pytest.approx(100 * 10 / 8 * 2 ** ((level - 85) / 3), rel=1e-3)
    assert row["daily"]["value"] == pytest.approx(level + 10 * math.log10(10 / 8), abs=1e-3)
