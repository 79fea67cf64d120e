"""A show whose text is damaged in any way is compiled, and what can be read of it is built: never a traceback."""

from __future__ import annotations

import random
import shutil
from pathlib import Path

import pytest

from helpers.damage import damaged, words_of
from helpers.tools import ROOT
from rigbook.handbook.make import make
from rigbook.handbook.themes import find_theme
from rigbook.pipeline import compile_plan

SHOWS = ("chapel/lessons-and-songs.yaml", "rural-hall/reel-night.yaml", "rural-hall/parish-revue.yaml")
VIEWS = ("crew", "guest", "public")


def survives(seed: int, folder: Path) -> None:
    """Damage one file of a show; compile it and make its pages."""
    chance = random.Random(seed)
    shutil.copytree(ROOT / "shows", folder / "shows", dirs_exist_ok=True)
    (folder / ".git").mkdir(exist_ok=True)
    show = folder / "shows" / chance.choice(SHOWS)
    texts = [p.read_text("utf-8") for p in sorted(show.parent.rglob("*.yaml"))]
    file = chance.choice([p for p in sorted(show.parent.glob("*.yaml")) if p == show or p.stem == "house"])
    file.write_text(damaged(file.read_text("utf-8"), chance, words_of(texts)), "utf-8")
    got = compile_plan(show, folder)
    if got.plan is not None:
        make(got, chance.choice(VIEWS), find_theme("plain"))


@pytest.mark.parametrize("seed", range(12))
def test_no_damage_gives_a_traceback(seed: int, tmp_path: Path) -> None:
    survives(seed, tmp_path)


@pytest.mark.slow
@pytest.mark.parametrize("block", range(20))
def test_no_damage_gives_a_traceback_in_a_thousand(block: int, tmp_path: Path) -> None:
    for seed in range(1000 + 50 * block, 1050 + 50 * block):
        survives(seed, tmp_path)


def test_an_area_that_is_not_read_leaves_its_boxes_without_rows(tmp_path: Path) -> None:
    """Found by damage: a box covers an area whose line is gone."""
    show = ROOT / "shows" / SHOWS[0]
    lines = [line for line in show.read_text("utf-8").split("\n") if "rear-pews: {from" not in line]
    plan = tmp_path / "plan.yaml"
    plan.write_text("\n".join(lines), "utf-8")
    got = compile_plan(plan, tmp_path)
    assert any(f.check == "unknown-name" for f in got.findings)
    assert make(got, "crew", find_theme("plain"))
