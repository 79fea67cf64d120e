"""Feeds of three phases, and what feeds carry, reckoned by hand against printed tables."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from helpers.by_hand import compiled_data, row, value

PLAN = """
plan: 1
show: Feeds
units: {{desk: desk-16}}
power:
  supplies: {{generator: {{{supply}}}}}
  circuits:
    {circuits}
limits: {{feed-air: {air} degC}}
"""


def mains(
    folder: Path, circuits: str, supply: str = "rating: 63 A", air: float = 30
) -> tuple[dict[str, Any], tuple[str, ...]]:
    text = PLAN.format(supply=supply, circuits=circuits.replace("; ", "\n    "), air=air)
    document, found = compiled_data(text, folder)
    return document["mains"], found


LOADS = "; ".join(f"c{n}: {{{{supply: generator, phase: L{n}, rating: 16 A, other-load: {{}} W}}}}" for n in (1, 2, 3))


@pytest.mark.parametrize(
    ("amps", "volts"),
    [
        # 50 m of 6 mm²: 0.165 ohm a core (3.30 ohm/km, IEC 60228 class 5); b·L·R'·I with b = 1 for a balanced load and
        # 2 for one phase alone (IEC 60364-5-52, annex G)
        ((10, 10, 10), 1.65),
        ((10, 0, 0), 3.3),
        # L1: 2·12 - (8 + 4)/2 = 18 A, by phasors
        ((12, 8, 4), 18 * 0.165),
    ],
)
def test_a_feed_of_three_phases(amps: tuple[float, ...], volts: float, tmp_path: Path) -> None:
    circuits = LOADS.format(*(a * 230 for a in amps))
    got, _ = mains(tmp_path, circuits, "phases: 3, rating: 32 A, length: 50 m, area: 6 mm2")
    (supply,) = got["supplies"]
    assert value(supply["line_volts"]) == pytest.approx(398.4, abs=0.05)
    assert value(supply["feed"]["drop_volts"]) == pytest.approx(volts, abs=1e-4)
    assert value(supply["feed"]["drop"]) == pytest.approx(100 * volts / 230, abs=1e-4)


def test_a_circuit_loses_on_both_feeds(tmp_path: Path) -> None:
    """10 A: 1.65 V on the feed of the supply and 2·20·0.00798·10 = 3.19 V on its own 20 m of 2.5 mm²."""
    own = "L1, rating: 16 A, length: 20 m, area: 2.5 mm2"
    circuits = LOADS.format(2300, 2300, 2300).replace("L1, rating: 16 A", own)
    got, _ = mains(tmp_path, circuits, "phases: 3, rating: 32 A, length: 50 m, area: 6 mm2")
    first = row(got["circuits"], name="c1")
    assert value(first["drop_volts"]) == pytest.approx(3.192)
    assert value(first["whole_drop"]) == pytest.approx(100 * (1.65 + 3.192) / 230)


@pytest.mark.parametrize(
    ("lies", "air", "amps"),
    [
        # IEC 60364-5-52:2009, table B.52.2 (from memory), times B.52.14 (40 °C: 0.87) and B.52.17 (three bunched: 0.70)
        ("area: 2.5 mm2", 30, 27.0),
        ("area: 2.5 mm2, laid: B1", 30, 24.0),
        ("area: 1.5 mm2, laid: A2", 30, 14.0),
        ("area: 4 mm2, laid: E", 30, 40.0),
        ("area: 2.5 mm2", 40, 27 * 0.87),
        ("area: 2.5 mm2", 20, 27 * 1.12),
        ("area: 2.5 mm2, bunch: 3", 30, 27 * 0.70),
        ("area: 6 mm2, laid: B2, bunch: 2", 35, 38 * 0.80 * 0.94),
        # between two printed areas the thinner counts; cords below 1.5 mm² as BS 7671, table 4F3A
        ("area: 3 mm2", 30, 27.0),
        ("area: 0.75 mm2", 30, 6.0),
        # NEC 310.16, 60 °C column
        ("area: 12 AWG", 30, 20.0),
        ("area: 10 AWG", 40, 30 * 0.82),
    ],
)
def test_what_a_feed_carries(lies: str, air: float, amps: float, tmp_path: Path) -> None:
    got, found = mains(tmp_path, f"c1: {{supply: generator, rating: 16 A, {lies}, feeds: desk}}", air=air)
    (circuit,) = got["circuits"]
    assert value(circuit["carries"]) == pytest.approx(amps, rel=0.007)
    assert ("feed-too-thin" in found) == (value(circuit["carries"]) < 16)


@pytest.mark.parametrize(
    ("supply", "amps", "least"),
    [
        # table B.52.4, three loaded cores on a surface: 4 mm² carry 32 A, 16 mm² 76 A, 35 mm² 119 A, 50 mm² 144 A
        ("phases: 3, rating: 63 A, area: 16 mm2", 76, 16),
        ("phases: 3, rating: 125 A, area: 35 mm2", 119, 50),
        ("phases: 3, rating: 32 A, area: 6 mm2", 41, 4),
        ("phases: 3, rating: 32 A, area: 4 mm2, laid: E", 34, 4),
    ],
)
def test_what_the_cable_of_three_phases_carries(supply: str, amps: float, least: float, tmp_path: Path) -> None:
    got, found = mains(tmp_path, "c1: {supply: generator, rating: 16 A, feeds: desk}", supply)
    feed = got["supplies"][0]["feed"]
    assert value(feed["carries"]) == pytest.approx(amps)
    assert feed["least_area"] == least
    assert ("feed-too-thin" in found) == ("125 A" in supply)


@pytest.mark.parametrize("lies", ["area: 240 mm2", "area: 2.5 mm2, bunch: 0", "area: 2.5 mm2, bunch: 40"])
def test_where_no_table_says_anything_there_is_no_figure(lies: str, tmp_path: Path) -> None:
    got, found = mains(tmp_path, f"c1: {{supply: generator, rating: 16 A, {lies}, feeds: desk}}")
    assert "missing" in got["circuits"][0]["carries"]
    assert "feed-too-thin" not in found


def test_thinner_than_any_table_is_too_thin(tmp_path: Path) -> None:
    """0.25 mm² where 2.5 mm² was meant: BS 7671, table 4F3A, begins at 0.5 mm² with 3 A."""
    got, found = mains(tmp_path, "c1: {supply: generator, rating: 16 A, area: 0.25 mm2, feeds: desk}")
    assert "missing" in got["circuits"][0]["carries"]
    assert "feed-too-thin" in found
