"""Mains: currents, phases, neutral and long feeds, reckoned by hand."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from helpers.by_hand import AMP_PORTS, compiled_data, figures, row, value

PLAN = """
plan: 1
show: Mains
kinds:
  amp-kind:
    is: amplifier
    title: an amplifier
    {ports}
    power: {{8 ohm: 500 W, 4 ohm: 800 W}}
    minimum-load: 4 ohm
    gain: 32 dB
    {draws}
units: {{desk: desk-16, a1: amp-kind, a2: amp-kind, a3: amp-kind}}
power:
  supplies: {{house: {{{supply}}}}}
  circuits: {{{circuits}}}
limits: {{circuit-share: {share} %}}
"""
DRAWS = "draw-idle: 50 W\n    draw-eighth: 414 W\n    draw-full: 2300 W"


def mains(
    folder: Path, circuits: str, supply: str = "rating: 63 A", draws: str = DRAWS, share: float = 80
) -> dict[str, Any]:
    text = PLAN.format(ports=AMP_PORTS, draws=draws, supply=supply, circuits=circuits, share=share)
    return figures(text, folder)["mains"]


ONE = "c1: {supply: house, rating: 16 A, feeds: [a1]}"


@pytest.mark.parametrize(
    ("factor", "supply", "amps"),
    [
        # I = P/(U·λ): 50, 414 and 2300 W
        ("", "rating: 63 A", (0.2174, 1.8, 10.0)),
        ("power-factor: 0.9", "rating: 63 A", (0.2415, 2.0, 11.111)),
        ("power-factor: 0.6", "rating: 63 A", (0.3623, 3.0, 16.667)),
        ("", "{rating: 63 A, voltage: 120 V}", (0.4167, 3.45, 19.167)),
        ("", "{rating: 63 A, voltage: 100 V}", (0.5, 4.14, 23.0)),
    ],
)
def test_current_of_an_amplifier(factor: str, supply: str, amps: tuple[float, float, float], tmp_path: Path) -> None:
    draws = f"{DRAWS}\n    {factor}" if factor else DRAWS
    (got,) = mains(tmp_path, ONE, supply.strip("{}"), draws)["circuits"]
    assert tuple(value(got[k]) for k in ("idle", "eighth", "full")) == pytest.approx(amps, abs=0.001)


@pytest.mark.parametrize(("efficiency", "watts"), [(65, 357.7), (55, 413.6), (80, 300.0)])
def test_an_eighth_of_the_output_by_efficiency(efficiency: int, watts: float, tmp_path: Path) -> None:
    """Idle + n·P/8/η, both channels at 800 W into 4 ohm (IEC 62368-1, annex E: an eighth of the output)."""
    got = mains(tmp_path, ONE, draws=f"draw-idle: 50 W\n    efficiency: {efficiency} %")
    assert value(row(got["units"], unit="a1")["eighth"]) == pytest.approx(watts, abs=0.1)
    assert 50 + 2 * 800 / 8 / (efficiency / 100) == pytest.approx(watts, abs=0.1)
    # of that, 200 W leave for the boxes
    assert value(row(got["units"], unit="a1")["heat"]) == pytest.approx(watts - 200, abs=0.1)


@pytest.mark.parametrize(
    ("rating", "share", "allowed"), [(16, 80, 12.8), (20, 80, 16.0), (15, 80, 12.0), (16, 100, 16.0)]
)
def test_what_may_be_drawn_for_long(rating: int, share: float, allowed: float, tmp_path: Path) -> None:
    """NEC 210.20(A): 80 % of a breaker of 15 and 20 A are 12 and 16 A; 100 % where the code has no such rule."""
    (got,) = mains(tmp_path, ONE.replace("16 A", f"{rating} A"), share=share)["circuits"]
    assert value(got["allowed"]) == pytest.approx(allowed)
    assert value(got["left"]) == pytest.approx(allowed - 1.8, abs=0.001)


LOADED = "{n}: {{supply: house, phase: {n}, rating: 16 A, feeds: [a{i}], other-load: {watts} W}}"


@pytest.mark.parametrize(
    ("amps", "neutral", "unbalance"),
    [
        # √(a² + b² + c² - ab - bc - ca); (largest departure from the mean)/mean
        ((10, 10, 10), 0.0, 0.0),
        ((16, 10, 8), 7.2111, 41.18),
        ((12, 12, 6), 6.0, 40.0),
        ((10, 4, 4), 6.0, 66.67),
    ],
)
def test_three_phases(amps: tuple[float, ...], neutral: float, unbalance: float, tmp_path: Path) -> None:
    """1.8 A of an amplifier at 230 V and the rest as other load."""
    circuits = ", ".join(
        LOADED.format(n=f"L{i}", i=i, watts=round(230 * (a - 1.8), 3)) for i, a in enumerate(amps, 1)
    )
    (got,) = mains(tmp_path, circuits, "phases: 3, rating: 32 A")["supplies"]
    assert [value(p["current"]) for p in got["by_phase"]] == pytest.approx(list(amps))
    assert value(got["neutral"]) == pytest.approx(neutral, abs=1e-3)
    assert value(got["unbalance"]) == pytest.approx(unbalance, abs=0.01)


@pytest.mark.parametrize(
    ("length", "area", "amps", "supply", "volts", "percent"),
    [
        # 2·L·R'·I with class 5 copper at 20 °C (IEC 60228, table 3)
        (30, "2.5 mm2", 16, 230, 7.6608, 3.3308),
        (20, "1.5 mm2", 10, 230, 5.32, 2.313),
        (50, "2.5 mm2", 10, 120, 7.98, 6.65),
        # 100 ft of AWG 12: 1.588 ohm per 1000 ft at 20 °C (NBS Handbook 100): 200 ft · 1.588/1000 · 16 A = 5.08 V
        (30.48, "12 AWG", 16, 120, 5.082, 4.235),
    ],
)
def test_voltage_lost_along_a_feed(
    length: float, area: str, amps: float, supply: float, volts: float, percent: float, tmp_path: Path
) -> None:
    circuit = f"c1: {{supply: house, rating: 32 A, length: {length} m, area: {area}, other-load: {amps * supply} W}}"
    (got,) = mains(tmp_path, circuit, f"voltage: {supply} V")["circuits"]
    assert value(got["drop_volts"]) == pytest.approx(volts, rel=2e-3)
    assert value(got["drop"]) == pytest.approx(percent, rel=2e-3)


def test_sources_are_switched_on_before_amplifiers(tmp_path: Path) -> None:
    order = mains(tmp_path, "c1: {supply: house, rating: 32 A, feeds: [a1, a2, a3, desk]}")["order"]
    assert order == ["desk", "a1", "a2", "a3"]


def test_an_overloaded_circuit_is_found(tmp_path: Path) -> None:
    """12.8 A are allowed: 1.8 A and 10.9 A pass, 1.8 A and 11.2 A do not."""
    found = []
    for watts in (10.9 * 230, 11.2 * 230):
        folder = tmp_path / f"{watts:.0f}"
        folder.mkdir()
        circuit = f"c1: {{supply: house, rating: 16 A, feeds: [a1], other-load: {watts:.0f} W}}"
        text = PLAN.format(ports=AMP_PORTS, draws=DRAWS, supply="rating: 63 A", circuits=circuit, share=80)
        found.append("circuit-overload" in compiled_data(text, folder)[1])
    assert found == [False, True]
