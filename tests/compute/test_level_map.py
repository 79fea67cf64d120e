"""The level map: against straight numpy written apart, against a free-field sum by hand, and for any area."""

from __future__ import annotations

import functools
import math
import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bench import level_map as floor
from helpers.oracles import oracle
from rigbook.compute.areas import Area
from rigbook.compute.level_map import MOST_PLACES, LevelMap, level_maps
from rigbook.compute.places import Places, Spot
from rigbook.compute.results import Results
from rigbook.compute.sources import Field, Source
from rigbook.findings.place import Span
from rigbook.language.record import Record

ONE_BOX = """\
plan: 1
show: One box
units: {box: {kind: powered-top-12, at: 2 m up, tilt: 0 deg up}}
room:
  mix-position: 10 m out 2 m up
  audience: {floor: {from: 1 m left 5 m out, to: 1 m right 80 m out, ear-height: 2 m}}
"""


@pytest.fixture(scope="module")
def benched() -> tuple[Results, LevelMap]:
    got = floor.compiled(floor.plan())
    return got, got.levels.maps[0]


def test_the_map_against_straight_numpy(benched: tuple[Results, LevelMap]) -> None:
    """The floor of the benchmark is written apart: the same formulas, other code. Ears of a seated listener: 1.2 m."""
    got, found = benched
    columns, rows = np.meshgrid(found.x, found.y)
    points = np.stack([columns, rows, np.full_like(rows, 1.2)], -1).reshape(-1, 3)
    bands = floor.floor(floor.boxes_of(got), points).reshape(8, *columns.shape)
    assert np.abs(bands - found.levels[1:]).max() < 1e-9
    # A-weighting as printed, so to 0.05 dB in each band
    weighted = 10 * np.log10((10 ** ((bands + floor.A_WEIGHTS_DB[:, None, None]) / 10)).sum(0))
    assert np.abs(weighted - found.levels[0]).max() < 0.06


def test_one_box_by_hand_with_the_air_of_another_library() -> None:
    """On the axis: inverse square and air absorption (acoustic-toolbox, ISO 9613-1), nothing else."""
    iso = oracle("acoustic_toolbox.standards.iso_9613_1_1993")
    got = floor.compiled(ONE_BOX)
    (found,) = got.levels.maps
    middle = int(np.flatnonzero(np.abs(found.x) < 1e-9)[0])
    axis = found.levels[1:, :, middle]
    vapour = iso.molar_concentration_water_vapour(50.0, iso.saturation_pressure(293.15), 101.325)
    nitrogen, oxygen = (f(*at, vapour) for f, at in ((iso.relaxation_frequency_nitrogen, (101.325, 293.15)),
                                                     (iso.relaxation_frequency_oxygen, (101.325,))))  # fmt: skip
    air = iso.attenuation_coefficient(101.325, 293.15, 101.325, 293.15, nitrogen, oxygen, floor.BANDS_HZ)
    for j, k in ((0, len(found.y) - 1), (1, len(found.y) // 2)):
        spread = 20 * math.log10(found.y[k] / found.y[j])
        lost = axis[:, j] - axis[:, k]
        played = axis[:, j] > -100
        assert lost[played] == pytest.approx((spread + air * (found.y[k] - found.y[j]))[played], abs=0.02)


def test_the_map_and_a_single_place_agree(benched: tuple[Results, LevelMap]) -> None:
    """The map goes through numpy, a single place through floats."""
    got, found = benched
    for j, i in ((0, 0), (7, 30), (49, 39)):
        bands, weighted = got.levels.at(Spot(float(found.x[i]), float(found.y[j]), 1.2))
        assert found.levels[:, j, i] == pytest.approx([weighted, *bands], abs=1e-9)


def test_a_mirrored_rig_has_a_mirrored_map() -> None:
    text = ONE_BOX.replace("units: {box: {kind: powered-top-12, at: 2 m up, tilt: 0 deg up}}", (
        "units: {a: {kind: powered-top-12, at: 3 m left 2 m up, aim: 20 deg right},"
        " b: {kind: powered-top-12, at: 3 m right 2 m up, aim: 20 deg left}}"))  # fmt: skip
    (found,) = floor.compiled(text).levels.maps
    assert np.allclose(found.levels, found.levels[..., ::-1], atol=1e-9)


RECORD = Record("area", Span("plan.yaml", 0, 0, 0, 0), {}, {})
sizes = st.floats(0.5, 400)


@settings(max_examples=40, deadline=None)
@given(st.lists(st.tuples(sizes, sizes), min_size=1, max_size=4))
def test_every_area_is_filled_to_its_edges_with_one_step(each: list[tuple[float, float]]) -> None:
    areas = [_area(f"a{n}", ((-w / 2, 1.0), (w / 2, 1.0), (w / 2, 1 + d), (-w / 2, 1 + d))) for n, (w, d) in
             enumerate(each)]  # fmt: skip
    maps = _maps(areas)
    assert len({m.step_m for m in maps}) == 1
    assert sum(m.inside.size for m in maps) <= MOST_PLACES
    for (w, d), m in zip(each, maps, strict=True):
        assert m.inside.all(), "every place of a rectangle lies in it"
        assert (m.x[0], m.x[-1], m.y[0], m.y[-1]) == pytest.approx((-w / 2, w / 2, 1, 1 + d))
        assert max(np.diff(m.x).max(), np.diff(m.y).max()) <= m.step_m * (1 + 1e-9)


def test_places_outside_an_outline_are_told() -> None:
    """A triangle of 10 by 10 m: half of the places of its box, and those on its edges."""
    (found,) = _maps([_area("t", ((0, 0), (10, 0), (0, 10)))])
    wanted = found.x[None, :] + found.y[:, None] <= 10 + 1e-5
    assert np.array_equal(found.inside, wanted)
    assert len(list(found.places)) == int(wanted.sum())


def _area(name: str, corners: tuple[tuple[float, float], ...]) -> Area:
    return Area(name, tuple(Spot(x, y, 0.0) for x, y in corners), 1.2, RECORD)


@functools.cache
def _one() -> tuple[Places, tuple[Source, ...]]:
    got = floor.compiled(ONE_BOX)
    return got.places, got.levels.sources


def _maps(areas: list[Area]) -> tuple[LevelMap, ...]:
    places, sources = _one()
    return level_maps(areas, Field(sources, places), {})


def test_check_needs_no_numpy_for_levels(tmp_path: Path) -> None:
    """`check` of a plan with places leaves the map alone."""
    (tmp_path / "plan.yaml").write_text(ONE_BOX, "utf-8")
    program = ("import sys\nfrom rigbook.cli import main\ntry:\n    main(['check', sys.argv[1]])\nexcept SystemExit:\n"
               "    pass\nsys.stderr.write('numpy' if 'numpy' in sys.modules else 'none')")  # fmt: skip
    done = subprocess.run([sys.executable, "-c", program, str(tmp_path / "plan.yaml")], capture_output=True, text=True,
                          check=False, timeout=60)  # fmt: skip
    assert done.stderr.endswith("none"), done.stderr


def test_a_mirrored_rig_is_advised_mirrored() -> None:
    """Places on the middle line belong to both sides."""
    text = ONE_BOX.replace("units: {box: {kind: powered-top-12, at: 2 m up, tilt: 0 deg up}}", (
        "units: {a: {kind: powered-top-12, at: 3 m left 2 m up, aim: 20 deg right},"
        " b: {kind: powered-top-12, at: 3 m right 2 m up, aim: 20 deg left}}"))  # fmt: skip
    left, right = floor.compiled(text).aims
    assert left.best_turn.value == -right.best_turn.value  # type: ignore[union-attr]
    assert left.best == right.best
    assert left.covered == right.covered
