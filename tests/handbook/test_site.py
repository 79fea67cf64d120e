"""The example show as a whole site: every page is there, links its drawings, and is the same bytes twice.

Covers the pages front, ten_minutes, rack, patch, routing, set_up, walk_test, venue, checks and the drawings svg,
blocks, layout, signal_flow, rack.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from rigbook.handbook.make import make
from rigbook.handbook.themes import find_theme
from rigbook.pipeline import compile_plan

PLAN = Path(__file__).parents[2] / "shows/rural-hall/reel-night.yaml"


@pytest.fixture(scope="module")
def files() -> dict[str, bytes]:
    return make(compile_plan(PLAN), "crew", find_theme("plain"))


def test_every_page_is_there(files: dict[str, bytes]) -> None:
    names = {"index", "ten-minutes", "rack", "patch", "routing", "set-up", "walk-test", "venue", "checks"}
    assert {f"{n}.html" for n in names} <= set(files)


def test_the_drawings_are_on_their_pages(files: dict[str, bytes]) -> None:
    assert b'id="signal-flow"' in files["index.html"]
    assert b'id="rack-stage-rack-front"' in files["rack.html"]


def test_twice_the_same_bytes(files: dict[str, bytes]) -> None:
    assert make(compile_plan(PLAN), "crew", find_theme("plain")) == files


def test_a_theme_overrides_one_file(files: dict[str, bytes]) -> None:
    dark = make(compile_plan(PLAN), "crew", find_theme("dark-stage"))
    assert dark["static/tokens.css"] != files["static/tokens.css"]


def test_what_is_for_the_crew_is_not_in_the_public_files() -> None:
    public = b"".join(make(compile_plan(PLAN), "public", find_theme("plain")).values())
    assert b"Tobin Marsh" not in public
    assert b"Maud Okafor" not in public
