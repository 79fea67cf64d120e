"""An aim rests on enough places, says how far apart they lie, and stays within two steps with many more of them."""

from __future__ import annotations

from pathlib import Path

import pytest

from helpers.tools import ROOT
from rigbook.compute import aims
from rigbook.compute.aims import LEAST_PLACES, STEP_DEG, aim_of, own_points
from rigbook.compute.figure import Figure
from rigbook.compute.levels import Levels
from rigbook.compute.results import results
from rigbook.pipeline import compile_plan

SHOWS = ("rural-hall/reel-night", "chapel/lessons-and-songs", "festival/meadow", "festival/orchard")


def _levels(show: str) -> Levels:
    compiled = compile_plan(Path(ROOT / "shows" / f"{show}.yaml"), ROOT)
    assert compiled.rig is not None
    return results(compiled.rig).levels


@pytest.mark.parametrize("show", SHOWS)
def test_a_box_has_places_enough(show: str) -> None:
    levels = _levels(show)
    assert {s.box.name: n for s in levels.covering if (n := len(own_points(levels, s))) < LEAST_PLACES} == {}


@pytest.mark.parametrize("show", SHOWS)
def test_the_advice_states_the_places_and_their_distance(show: str) -> None:
    levels = _levels(show)
    for source in levels.covering:
        best = aim_of(levels, source).best
        if isinstance(best, Figure):
            said = {str(name): (value, unit) for name, value, unit in best.inputs}
            assert said["places"][0] >= LEAST_PLACES
            apart, unit = said["places apart, at most"]
            assert unit == "m"
            # not coarser than the row of ears that the checks of the whole area go by
            assert 0.1 < float(apart) <= max((a.area.size_m2 / len(a.points)) ** 0.5 for a in levels.by_area) + 0.01


@pytest.mark.slow
@pytest.mark.parametrize("show", SHOWS)
def test_many_more_places_give_the_same_advice(show: str, monkeypatch: pytest.MonkeyPatch) -> None:
    levels = _levels(show)
    usual = {s.box.name: aim_of(levels, s) for s in levels.covering}
    monkeypatch.setattr(aims, "LEAST_PLACES", 8 * LEAST_PLACES)
    for source in levels.covering:
        one, other = usual[source.box.name], aim_of(levels, source)
        for a, b in ((one.best, other.best), (one.best_turn, other.best_turn)):
            if isinstance(a, Figure) and isinstance(b, Figure):
                assert abs(a.value - b.value) <= 2 * STEP_DEG, source.box.name
