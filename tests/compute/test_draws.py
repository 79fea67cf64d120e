"""Mains figures of whole plans against worked examples."""

from __future__ import annotations

import cmath
import math
from pathlib import Path

import pytest

from helpers.check_pages import compile_text
from rigbook.compute.draws import PF
from rigbook.compute.figure import Figure
from rigbook.compute.results import Results, results
from rigbook.pipeline import Compiled

AMPLIFIER = """
  {name}:
    is: amplifier
    title: an amplifier
    ports:
      in A-B: {{connector: xlr-female, level: line, direction: in}}
      out A-B: {{connector: speaker-4-pole, level: speaker, direction: out}}
      mains: {{connector: mains-inlet, level: mains, direction: in}}
    {figures}"""


def read(text: str, folder: Path) -> Compiled:
    return compile_text("plan: 1\nshow: Mains\n" + text, folder)


def made(text: str, folder: Path) -> Results:
    compiled = read(text, folder)
    assert compiled.rig is not None, compiled.findings
    return results(compiled.rig)


def value(result: object) -> float:
    assert isinstance(result, Figure), result
    return result.value


def amplifiers(folder: Path, *kinds: tuple[int, str]) -> Results:
    """So many of each kind of amplifier on one circuit of 16 A."""
    made_of = "".join(AMPLIFIER.format(name=f"kind-{i}", figures=said) for i, (_, said) in enumerate(kinds))
    names = [(f"amp-{i}-{n}", f"kind-{i}") for i, (count, _) in enumerate(kinds) for n in range(count)]
    units = "".join(f"  {name}: {kind}\n" for name, kind in names)
    feeds = ", ".join(name for name, _ in names)
    return made(
        f"kinds:{made_of}\nunits:\n{units}power:\n  supplies: {{house: {{voltage: 230 V}}}}\n"
        f"  circuits: {{one: {{supply: house, rating: 16 A, feeds: [{feeds}]}}}}\n",
        folder,
    )


@pytest.mark.parametrize(
    ("kinds", "volt_amperes", "amperes"),
    [
        ([(2, "power: {8 ohm: 500 W}\n    efficiency: 65 %\n    draw-idle: 40 W\n    power-factor: 0.9"),
          (1, "power: {8 ohm: 2000 W}\n    efficiency: 80 %\n    draw-idle: 120 W\n    power-factor: 0.95")],
         1300.45, 5.6541),
        ([(4, "power: {8 ohm: 800 W}\n    efficiency: 70 %\n    draw-idle: 80 W\n    power-factor: 0.92")],
         1590.06, 6.9133),
        ([(3, "draw-idle: 50 W\n    draw-eighth: 414 W\n    power-factor: 0.9")], 1380.0, 6.0),
        ([(1, "draw-eighth: 460 W")], 460.0, 2.0),
    ],
)  # fmt: skip
def test_apparent_load_of_a_circuit(
    kinds: list[tuple[int, str]], volt_amperes: float, amperes: float, tmp_path: Path
) -> None:
    """Sum of n·(idle + 2·P/8/η)/λ; over 230 V (check value 18-circuit; the last two by hand)."""
    got = amplifiers(tmp_path, *kinds)
    (circuit,) = got.mains.circuits
    apparent = sum(float(amount) for _, amount, unit in circuit.eighth.inputs if unit == "VA")
    assert apparent == pytest.approx(volt_amperes, rel=1e-5)
    assert value(circuit.eighth) == pytest.approx(amperes, rel=1e-4)
    assert sum(value(d.current) for d in got.mains.draws) == pytest.approx(value(circuit.eighth))
    # NEC 210.20(A): 80 % of 16 A
    assert (value(circuit.allowed), value(circuit.left)) == pytest.approx((12.8, 12.8 - amperes), rel=1e-4)


def test_an_amplifier_that_states_no_draw_is_not_taken_at_idle(tmp_path: Path) -> None:
    """2 x 900 W into its lowest load: 60 + 2·900/8/0.55 W with loud music, and the heat of it less 225 W of sound."""
    (draw,) = amplifiers(tmp_path, (1, "power: {8 ohm: 500 W, 4 ohm: 900 W}\n    draw-idle: 60 W")).mains.draws
    assert value(draw.eighth) == pytest.approx(60 + 225 / 0.55)
    assert value(draw.full) == pytest.approx(60 + 1800 / 0.55)
    assert value(draw.heat) == pytest.approx(60 + 225 / 0.55 - 225)
    assert isinstance(draw.eighth, Figure)
    assert "an amplifier that states no efficiency gives 55 % of what it draws beyond idle" in draw.eighth.assumptions


def test_a_power_factor_is_assumed_only_where_none_is_stated(tmp_path: Path) -> None:
    for name, said, assumed in (("a", "power-factor: 1", False), ("b", "weight: 9 kg", True)):
        folder = tmp_path / name
        folder.mkdir()
        (circuit,) = amplifiers(folder, (1, f"draw-idle: 50 W\n    draw-eighth: 230 W\n    {said}")).mains.circuits
        assert (PF in circuit.eighth.assumptions) is assumed
        assert value(circuit.eighth) == 1.0


@pytest.mark.parametrize("typed", ["0", "1.1", "-0.9", "0,9", "90 %", "abc"])
def test_no_power_factor(typed: str, tmp_path: Path) -> None:
    kind = AMPLIFIER.format(name="kind", figures=f"power-factor: {typed}")
    got = read(f"kinds:{kind}\nunits: {{amp: kind}}\n", tmp_path)
    assert "wrong-value" in [f.check for f in got.findings]


@pytest.mark.parametrize(
    "watts", [(2300, 2300, 2300), (2300, 0, 0), (2300, 2300, 0), (3680, 1610, 230), (0, 0, 0), (460, 1150, 2990)]
)
def test_the_neutral_of_three_phases_against_phasors(watts: tuple[int, int, int], tmp_path: Path) -> None:
    """Phasors 120° apart, 230 V: balanced, nothing; one phase alone, all of it; two, as much as one of them."""
    circuits = "".join(
        f"    c{i}: {{supply: house, phase: L{i}, rating: 16 A, other-load: {w} W}}\n" for i, w in enumerate(watts, 1)
    )
    got = made(f"power:\n  supplies: {{house: {{phases: 3, rating: 32 A}}}}\n  circuits:\n{circuits}", tmp_path)
    (house,) = got.mains.supplies
    turn = cmath.exp(2j * math.pi / 3)
    wanted = abs(sum(w / 230 * turn**i for i, w in enumerate(watts)))
    assert value(house.neutral) == pytest.approx(wanted, abs=1e-9)
    assert [value(a) for _, a in house.by_phase] == pytest.approx([w / 230 for w in watts])


@pytest.mark.parametrize(
    ("area", "length", "load", "volts", "percent"),
    [
        # 2·30·7.98/1000·16 = 7.66 V of 230 V (check value 13-vdrop)
        ("2.5 mm2", "30 m", 3680, 7.6608, 3.33078),
        ("1.5 mm2", "0.1 m", 3680, 2 * 0.1 * 0.0133 * 16, 2 * 0.1 * 0.0133 * 16 / 2.3),
        ("16 mm2", "100 m", 7360, 2 * 100 * 1.21e-3 * 32, 2 * 100 * 1.21e-3 * 32 / 2.3),
        # NBS Handbook 100: 12 AWG has 1.588 ohm per 1000 ft (from memory); 100 ft there and back at 16 A
        ("12 AWG", "100 ft", 3680, 2 * 0.1588 * 16, 2 * 0.1588 * 16 / 2.3),
        ("4/0 AWG", "200 ft", 23000, 2 * 0.2 * 0.04901 * 100, 2 * 0.2 * 0.04901 * 100 / 2.3),
    ],
)
def test_voltage_lost_along_a_feed(
    area: str, length: str, load: int, volts: float, percent: float, tmp_path: Path
) -> None:
    got = made(
        "power:\n  supplies: {house: {voltage: 230 V}}\n  circuits:\n"
        f"    one: {{supply: house, rating: 125 A, other-load: {load} W, length: {length}, area: {area}}}\n",
        tmp_path,
    )
    (circuit,) = got.mains.circuits
    assert value(circuit.drop_volts) == pytest.approx(volts, rel=1e-3)
    assert value(circuit.drop) == pytest.approx(percent, rel=1e-3)
