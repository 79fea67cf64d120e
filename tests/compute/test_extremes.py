"""Plans at the ends of what may be typed: a figure is a number that a person would print, or says why there is none."""

from __future__ import annotations

import json
import math
import random
from pathlib import Path

import pytest

from helpers.check_pages import compile_text
from helpers.extremes import CHOICES, figures, nonsense, plan
from rigbook.compute.data import data

ONE_BY_ONE = [{key: value} for key, values in CHOICES.items() for value in values[1:]]
MIXED = [
    {key: random.Random(f"{seed} {key}").choice(values) for key, values in CHOICES.items()} for seed in range(25)
]
SHARES = ("uncovered", "covered", "drop", "whole_drop")


@pytest.mark.parametrize("start", range(0, len(ONE_BY_ONE) + len(MIXED), 12))
def test_no_figure_is_nonsense(start: int, tmp_path: Path) -> None:
    for number, chosen in enumerate((ONE_BY_ONE + MIXED)[start : start + 12]):
        compiled = compile_text(plan(**chosen), tmp_path / str(number))
        assert compiled.rig is not None, chosen
        document = data(compiled.rig)
        json.dumps(document, allow_nan=False)
        for where, figure in figures(document):
            assert math.isfinite(figure["value"]), (chosen, where)
            assert not nonsense(figure["text"]), (chosen, where, figure["text"])
            if figure["unit"] == "%" and where.rpartition(".")[2] in SHARES:
                assert 0 <= figure["value"] <= 100 + 1e-9, (chosen, where)
        for f in compiled.findings:
            said = " ".join((f.message, f.effect, f.remedy, f.primary.text, *(x.text for x in f.secondary)))
            assert not nonsense(said), (chosen, said)


def test_a_feed_that_would_lose_more_than_there_is_loses_all_and_is_told(tmp_path: Path) -> None:
    """10 km of 0.2 mm² with 100 kW: 2·L·R'·I would be thousands of volts."""
    compiled = compile_text(plan(feed="10 km", area="1.5 mm2", other="2 kW"), tmp_path)
    assert compiled.rig is not None
    (circuit,) = data(compiled.rig)["mains"]["circuits"]
    assert (circuit["drop"]["value"], circuit["drop_volts"]["value"]) == (100, 230)
    assert "no more than the whole voltage" in circuit["drop"]["assumptions"]
    assert "voltage-drop" in {f.check for f in compiled.findings}


def test_a_room_that_absorbs_more_than_it_can_has_no_critical_distance(tmp_path: Path) -> None:
    """Sabine: 0.161·V/T of 1000 m³ and 0.1 s are 1610 m²; a cube of that volume has 600 m² of surface."""
    compiled = compile_text(plan(reverberation="0.1 s"), tmp_path)
    assert compiled.rig is not None
    for box in data(compiled.rig)["room"]:
        assert "reverberation time 0.1 s is below 0.1342 s" in box["critical"]["missing"]
