"""Speaker cables: by hand, and against the nodal equations of the same network solved with numpy."""

from __future__ import annotations

import math
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from helpers.check_pages import compile_text
from rigbook.compute.cables import Run
from rigbook.compute.figure import Figure, Missing
from rigbook.compute.results import results

OHM_PER_KM = {1.5: 13.3, 2.5: 7.98, 4.0: 4.95}
"""IEC 60228:2004, table 3 (class 5), at 20 °C."""
PLAN = """
plan: 1
show: Cables
kinds:
  thin: {is: cable, title: thin speaker cable, carries: speaker, area: 1.5 mm2, ends: [speaker-4-pole, speaker-4-pole]}
units:
  desk: desk-16
  amp: amplifier-2x500
"""


def compiled(folder: Path, units: str, lines: str, more: str = "") -> tuple[Run, ...]:
    """The runs of a rig with one amplifier."""
    wiring = f"wiring:\n  xlr: [desk/out 1 -> amp/in A]\n{lines}\n"
    rest = "inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, to: main}}\nbuses: {main: {}}\n"
    got = compile_text(PLAN + units + rest + "outputs: {main: desk/out 1}\n" + wiring + more, folder)
    assert got.rig is not None
    return results(got.rig).cable_runs


def value(result: Figure | Missing) -> float:
    assert isinstance(result, Figure)
    return result.value


def test_one_box_on_one_cable(tmp_path: Path) -> None:
    (run,) = compiled(tmp_path, "  top: top-12\n", "  speaker-2.5-mm2: ['amp/out A -> top/in, 20 m']")
    loop = 2 * 20 * OHM_PER_KM[2.5] / 1000
    assert value(run.loop) == pytest.approx(loop)
    # circuit theory: the voltage divider of cable and box
    assert value(run.loss) == pytest.approx(20 * math.log10(1 + loop / 8))
    # the kind says 300 at 8 ohm
    assert value(run.damping) == pytest.approx(8 / (8 / 300 + loop))
    assert (run.amplifier, run.box, [c.name for c in run.cables]) == ("amp/out A", "top", ["amp/out A -> top/in"])


def test_a_warm_cable_loses_more(tmp_path: Path) -> None:
    """IEC 60028:1925: copper gains 0.393 % a kelvin."""
    lines = "  speaker-2.5-mm2: ['amp/out A -> top/in, 20 m']"
    (run,) = compiled(tmp_path, "  top: top-12\n", lines, "limits: {temperature: 50 degC}\n")
    assert value(run.loop) == pytest.approx(2 * 20 * OHM_PER_KM[2.5] / 1000 * (1 + 0.00393 * 30))


@pytest.mark.parametrize(
    ("gauge", "ohm_per_kft"), [("12 AWG", 1.588), ("10 AWG", 0.9989), ("16 AWG", 4.016), ("AWG 14", 2.525)]
)
def test_a_wire_gauge_has_the_resistance_of_its_own_table(gauge: str, ohm_per_kft: float, tmp_path: Path) -> None:
    """NBS Handbook 100, Copper Wire Tables (1966), ohm per 1000 ft at 20 °C (from memory): 50 ft there and back."""
    kinds = f"kinds: {{gauged: {{is: cable, title: by gauge, carries: speaker, area: {gauge}, ends: [open, open]}}}}\n"
    plan = PLAN.partition("kinds:")[0] + kinds + "units:\n  desk: desk-16\n  amp: amplifier-2x500\n  top: top-12\n"
    plan += "inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, to: main}}\nbuses: {main: {}}\n"
    plan += "outputs: {main: desk/out 1}\nwiring:\n  xlr: [desk/out 1 -> amp/in A]\n"
    plan += "  gauged: ['amp/out A -> top/in, 50 ft']\n"
    got = compile_text(plan, tmp_path)
    assert got.rig is not None
    (run,) = results(got.rig).cable_runs
    loop = 2 * 50 * ohm_per_kft / 1000
    assert value(run.loop) == pytest.approx(loop, rel=0.001)
    assert value(run.loss) == pytest.approx(20 * math.log10(1 + loop / 8), rel=0.001)
    assert isinstance(run.loop, Figure) and "solid copper of its gauge" in run.loop.assumptions[0]


def test_what_is_not_said_is_missing(tmp_path: Path) -> None:
    units = "  top, second: top-12\n"
    near, far = compiled(tmp_path, units, "  speaker-2.5-mm2: [amp/out A -> top/in -> second/in]")
    for run in (near, far):
        assert isinstance(run.loop, Missing) and isinstance(run.loss, Missing) and isinstance(run.damping, Missing)
    assert "no length" in str(near.loop)


@given(
    lengths=st.lists(st.integers(1, 80), min_size=1, max_size=4),
    areas=st.lists(st.sampled_from(sorted(OHM_PER_KM)), min_size=4, max_size=4),
)
@settings(max_examples=25, deadline=None)
def test_a_chain_against_the_nodal_equations(
    lengths: list[int], areas: list[float], tmp_path_factory: pytest.TempPathFactory
) -> None:
    """Boxes of 8 ohm in a chain: G·U = I with the amplifier as a source of 1 V."""
    kinds = {1.5: "thin", 2.5: "speaker-2.5-mm2", 4.0: "speaker-4-mm2"}
    names = [f"top-{i}" for i in range(len(lengths))]
    lines = ""
    for area, kind in kinds.items():
        mine = [
            f"{'amp/out A' if i == 0 else f'{names[i - 1]}/link'} -> {names[i]}/in, {lengths[i]} m"
            for i in range(len(names)) if areas[i] == area
        ]
        lines += f"  {kind}: {mine}\n" if mine else ""
    runs = compiled(tmp_path_factory.mktemp("chain"), f"  {', '.join(names)}: top-12\n", lines)
    siemens = [1000 / (2 * m * OHM_PER_KM[a]) for m, a in zip(lengths, areas, strict=False)]
    g = np.diag([1 / 8.0] * len(names))
    for i, s in enumerate(siemens):
        g[i, i] += s
        if i:
            g[i - 1, i - 1] += s
            g[i, i - 1] -= s
            g[i - 1, i] -= s
    volts = np.linalg.solve(g, np.array([siemens[0]] + [0.0] * (len(names) - 1)))
    assert [r.box for r in runs] == names
    assert [value(r.loss) for r in runs] == pytest.approx(list(-20 * np.log10(volts)))


def test_the_next_area_keeps_within_the_limit_and_the_one_before_does_not(tmp_path: Path) -> None:
    (run,) = compiled(tmp_path, "  top: top-12\n", "  thin: ['amp/out A -> top/in, 28 m']")

    def loss(area: float) -> float:
        return 20 * math.log10(1 + 2 * 28 * OHM_PER_KM[area] / 1000 / 8)

    assert value(run.loss) == pytest.approx(loss(1.5))
    assert run.next_area == 2.5 and loss(2.5) <= 0.5 < loss(1.5)
