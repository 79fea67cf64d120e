"""Speaker cables: loop, loss, damping factor and the smallest area, against printed tables of conductors."""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from helpers.by_hand import SPEAKER_IN, compiled_data, figures, row, value

PLAN = """
plan: 1
show: Cable
kinds:
  box: {{is: speaker, title: a box, box: top, {speaker}, impedance: {ohm} ohm, rated-power: 350 W, sensitivity: 97 dB}}
  lead: {{is: cable, title: a lead, ends: [speaker-4-pole, speaker-4-pole], carries: speaker, area: {area}}}
units:
  desk: desk-16
  amp: amplifier-2x500
  a1, a2: box
inputs: {{1: {{name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main}}}}
buses: {{main: {{}}}}
outputs: {{main: desk/out 1}}
wiring:
  xlr: [desk/out 1 -> amp/in A]
  lead: ["{run}"]
limits: {{temperature: {celsius} degC, speaker-cable-loss: {limit} dB}}
"""


def plan(area: str, run: str, ohm: float = 8, celsius: float = 20, limit: float = 0.5) -> str:
    return PLAN.format(speaker=SPEAKER_IN, area=area, run=run, ohm=ohm, celsius=celsius, limit=limit)


@pytest.mark.parametrize(
    ("area", "ohm_per_km"),
    [
        # IEC 60228:2004, table 3, class 5, plain copper at 20 °C
        ("1.5 mm2", 13.3), ("2.5 mm2", 7.98), ("4 mm2", 4.95), ("6 mm2", 3.30), ("10 mm2", 1.91),
        # NBS Handbook 100 (1966), solid wire at 20 °C: 1000 ft have 2.525, 1.588, 0.9989 and 0.6282 ohm for AWG 14 to 8
        ("16 AWG", 13.17), ("14 AWG", 8.286), ("12 AWG", 5.211), ("10 AWG", 3.277), ("8 AWG", 2.061),
    ],
)  # fmt: skip
def test_twenty_five_metres(area: str, ohm_per_km: float, tmp_path: Path) -> None:
    """Loop 2·L·R'; loss 20 lg(1 + R/Z); damping factor Z/(Z/300 + R), with the 300 of the amplifier at 8 ohm."""
    (got,) = figures(plan(area, "amp/out A -> a1, 25 m"), tmp_path)["cables"]
    loop = 0.05 * ohm_per_km
    assert value(got["loop"]) == pytest.approx(loop, rel=1.5e-3)
    assert value(got["loss"]) == pytest.approx(20 * math.log10(1 + loop / 8), abs=0.002)
    assert value(got["damping"]) == pytest.approx(8 / (8 / 300 + loop), rel=2e-3)


@pytest.mark.parametrize(
    # NBS Handbook 100: 1 + 0.00393·(t - 20); IEC 60228, annex B, has 250/(230 + t), 0.1 % from it at 40 °C
    ("celsius", "factor"), [(-20, 0.8428), (0, 0.9214), (40, 1.0786), (60, 1.1572), (75, 1.21615)]
)  # fmt: skip
def test_warm_copper(celsius: int, factor: float, tmp_path: Path) -> None:
    """25 m of 2.5 mm² have 0.399 ohm at 20 °C; at 40 °C 0.430 ohm, and 0.455 instead of 0.423 dB are lost."""
    (got,) = figures(plan("2.5 mm2", "amp/out A -> a1, 25 m", celsius=celsius), tmp_path)["cables"]
    assert value(got["loop"]) == pytest.approx(0.399 * factor, rel=3e-3)
    assert value(got["loss"]) == pytest.approx(20 * math.log10(1 + 0.399 * factor / 8), abs=0.002)


def test_a_second_box_down_the_line_loses_more(tmp_path: Path) -> None:
    """10 m to the first box, 5 m on to the second, 2.5 mm², 8 ohm each, a network of three resistances:
    the first piece 0.1596 ohm, the second 0.0798 ohm before 8 ohm.
    """
    text = plan("2.5 mm2", "amp/out A -> a1, 10 m").replace('10 m"', '10 m", "a1/link -> a2, 5 m"')
    document = figures(text, tmp_path)
    first, second = (row(document["cables"], box=name) for name in ("a1", "a2"))
    far = 8 + 0.0798
    joint = 8 * far / (8 + far)
    at_first = joint / (joint + 0.1596)
    at_second = at_first * 8 / far
    assert value(first["loss"]) == pytest.approx(-20 * math.log10(at_first), abs=0.01)
    assert value(second["loss"]) == pytest.approx(-20 * math.log10(at_second), abs=0.01)
    assert value(second["loop"]) == pytest.approx(0.1596 + 0.0798)


@pytest.mark.parametrize(
    ("run", "ohm", "limit"),
    [
        # most loop resistance Z·(10^(limit/20) - 1), per metre of core, and the next row of IEC 60228, table 3
        ("25 m", 8, 0.5),  # 9.49 ohm/km
        ("30 m", 4, 0.5),  # 3.95 ohm/km
        ("50 m", 8, 0.5),  # 4.74 ohm/km
        ("25 m", 8, 0.25),  # 4.67 ohm/km: 4 mm² has 4.95
        ("100 m", 8, 1.0),  # 4.88 ohm/km
    ],
)
def test_smallest_area(run: str, ohm: float, limit: float, tmp_path: Path) -> None:
    allowed = ohm * (10 ** (limit / 20) - 1) / (2 * float(run.split()[0])) * 1000
    table = {1.5: 13.3, 2.5: 7.98, 4.0: 4.95, 6.0: 3.30, 10.0: 1.91}
    wanted = min(a for a, r in table.items() if r <= allowed)
    document, found = compiled_data(plan("1 mm2", f"amp/out A -> a1, {run}", ohm=ohm, limit=limit), tmp_path)
    (got,) = document["cables"]
    assert got["next_area"] == wanted
    assert "speaker-cable-loss" in found
