"""level_map and crossover_plot: what is drawn is what was computed."""

from __future__ import annotations

import re
from pathlib import Path
from xml.etree import ElementTree as Tree

import numpy as np
import pytest

from helpers.tools import ROOT
from rigbook.compute.places import Spot
from rigbook.compute.results import Results, results
from rigbook.handbook.book import Book
from rigbook.handbook.drawings import crossover_plot, level_map
from rigbook.handbook.drawings.scale import View
from rigbook.handbook.tongue import ENGLISH
from rigbook.pipeline import compile_plan

SVG = "{http://www.w3.org/2000/svg}"
GOLDENS = Path(__file__).parent / "goldens"
SHOWS = ("rural-hall/reel-night.yaml", "chapel/lessons-and-songs.yaml", "festival/meadow.yaml")


@pytest.fixture(scope="module", params=SHOWS)
def got(request: pytest.FixtureRequest) -> Results:
    compiled = compile_plan(ROOT / "shows" / request.param)
    return results(Book.of(compiled, "crew").rig)


@pytest.fixture(scope="module")
def sheets(got: Results) -> list[Tree.Element]:
    maps = got.levels.maps
    steps, scale = level_map.steps_of(maps), level_map.scale_of(maps)
    return [Tree.fromstring(level_map.draw(m, steps, scale, ENGLISH)) for m in maps]


def layers(sheet: Tree.Element) -> dict[str, Tree.Element]:
    found = [e for e in sheet.iter(f"{SVG}g") if e.get("class", "").startswith("band ")]
    return {e.get("class", "").rpartition("-")[2]: e for e in found}


def test_printed_figures_are_the_levels_there(got: Results, sheets: list[Tree.Element]) -> None:
    """Against `Levels.at`, which the checks use and which goes through floats, not through the map."""
    scale = level_map.scale_of(got.levels.maps)
    order = {f"{hz:g}": n for n, hz in enumerate(level_map.PER_BAND)}
    for m, sheet in zip(got.levels.maps, sheets, strict=True):
        count = 0
        for hz, layer in layers(sheet).items():
            for text in (t for t in layer.iter(f"{SVG}text") if t.get("class") == "figure"):
                for span in list(text)[:: 3 if hz != "0" else 1]:
                    x = float(m.x[0]) + (float(span.get("x", 0)) - level_map.LEFT) / scale
                    y = float(m.y[0]) + (float(text.get("y", 0)) - 4 - level_map.TOP) / scale
                    x, y = min(m.x, key=lambda v: abs(v - x)), min(m.y, key=lambda v: abs(v - y))
                    bands, weighted = got.levels.at(Spot(float(x), float(y), m.area.floor(x, y) + m.area.ear_m))
                    level = [weighted, *bands][order[hz]]
                    assert abs(float(span.text or "nan") - level) < 0.51, (m.area.name, hz, x, y)
                    count += 1
        assert count > 10


def test_lines_lie_where_the_level_is_that_of_their_step(got: Results) -> None:
    """Between places of the grid the line is straight, so to a part of what a step of the grid changes."""
    maps = got.levels.maps
    (band, *_) = level_map.steps_of(maps)
    for m in maps:
        view = View(0.0, 0.0, 0.0, 0.0, 1000.0)  # a pixel a millimetre
        paths = list(level_map.tones_of(m, band, view))[1:]
        inner = 0
        for low, d in zip(band.lows[1:], paths, strict=False):
            for x, y in corners(d)[::5]:
                on_edge = min(abs(x - m.x[0]), abs(x - m.x[-1]), abs(y - m.y[0]), abs(y - m.y[-1])) < 0.002
                if not on_edge:
                    level = got.levels.at(Spot(x, y, m.area.floor(x, y) + m.area.ear_m))[1]
                    assert level == pytest.approx(low, abs=0.35)
                    inner += 1
        assert inner or not paths


def corners(d: str) -> list[tuple[float, float]]:
    """The corners of a path of closed lines, m."""
    out = []
    for part in d.split("M")[1:]:
        start, _, rest = part.rstrip("z").partition("l")
        x, y = (float(v) for v in start.split())
        out.append((x / 1000, y / 1000))
        steps = [float(v) for v in rest.split()]
        for dx, dy in zip(steps[::2], steps[1::2], strict=True):
            x, y = x + dx, y + dy
            out.append((x / 1000, y / 1000))
    return out


def test_tones_of_a_place_say_its_step(got: Results) -> None:
    """A place lies under as many tones as there are steps up to its level: counted through the drawn lines."""
    maps = got.levels.maps
    for band in level_map.steps_of(maps)[:2]:
        for m in maps:
            paths = list(level_map.tones_of(m, band, View(0.0, 0.0, 0.0, 0.0, 1000.0)))[1:]
            for j in range(1, len(m.y) - 1, 7):
                for i in range(1, len(m.x) - 1, 6):
                    level = float(m.levels[band.layer, j, i])
                    near = min(abs(level - low) for low in band.lows)
                    if near > 0.05:
                        under = sum(inside(d, float(m.x[i]), float(m.y[j])) for d in paths)
                        assert under == sum(level >= low for low in band.lows[1:])


def inside(d: str, x: float, y: float) -> bool:
    """Even-odd rule, counted to the right."""
    odd = False
    for part in d.split("M")[1:]:
        ring = corners("M" + part)
        for (x1, y1), (x2, y2) in zip(ring, (*ring[1:], ring[0]), strict=True):
            if (y1 > y) != (y2 > y) and x < x1 + (x2 - x1) * (y - y1) / (y2 - y1):
                odd = not odd
    return odd


def test_steps_hold_every_level(got: Results) -> None:
    maps = got.levels.maps
    for band in level_map.steps_of(maps):
        values = np.concatenate([m.levels[band.layer][m.inside] for m in maps])
        assert len(band.lows) <= level_map.MOST_STEPS
        assert values.max() <= band.lows[-1] + band.step_db
        if band.step_db < level_map.STEPS_DB[-1]:
            assert values.min() >= band.lows[0]


def test_a_silent_band_is_not_offered(got: Results) -> None:
    heard = {s.hz for s in level_map.steps_of(got.levels.maps)}
    for n, hz in enumerate(level_map.PER_BAND):
        assert (hz in heard) == any(m.levels[n].max() > -100 for m in got.levels.maps)


def test_the_area_is_drawn_to_scale(got: Results, sheets: list[Tree.Element]) -> None:
    scale = level_map.scale_of(got.levels.maps)
    for m, sheet in zip(got.levels.maps, sheets, strict=True):
        outline = next(e for e in sheet.iter(f"{SVG}path") if e.get("class") == "outline")
        found = [float(n) for n in re.findall(r"-?\d+\.?\d*", outline.get("d", ""))]
        assert max(found[::2]) - min(found[::2]) == pytest.approx((m.x[-1] - m.x[0]) * scale, abs=0.2)
        assert max(found[1::2]) - min(found[1::2]) == pytest.approx((m.y[-1] - m.y[0]) * scale, abs=0.2)


def test_copies_that_cancel_can_be_drawn() -> None:
    """Two subs of opposite polarity: silence on the middle line (a level of minus infinity has no line)."""
    from bench.level_map import compiled

    two = ("units:\n  top: {kind: powered-top-12, at: 3 m up}\n  a: {kind: powered-sub-15, at: 2 m left}\n"
           "  b: {kind: powered-sub-15, at: 2 m right}\n")  # fmt: skip
    room = "room: {audience: {floor: {from: 4 m left 2 m out, to: 4 m right 9 m out}}}\n"
    (m,) = compiled(f"plan: 1\nshow: A\n{two}{room}").levels.maps
    m.levels[1, :, len(m.x) // 2] = -np.inf
    steps = level_map.steps_of([m])
    text = level_map.draw(m, steps, level_map.scale_of([m]), ENGLISH)
    assert "nan" not in text


def test_the_plot_of_a_crossover_is_its_curve(got: Results) -> None:
    for n, pair in enumerate(got.crossovers):
        sheet = Tree.fromstring(crossover_plot.draw(pair, f"c{n}", ENGLISH))
        line = next(e for e in sheet.iter(f"{SVG}path") if e.get("class") == "way sum" and "h24" not in e.get("d", ""))
        found = [float(v) for v in re.findall(r"-?\d+\.?\d*", line.get("d", ""))]
        points = list(zip(found[::2], found[1::2], strict=True))
        assert len(points) == len(pair.curve)
        for (x, y), (hz, _, _, db) in zip(points, pair.curve, strict=True):
            assert x == pytest.approx(crossover_plot.x_of(hz), abs=0.06)
            assert y == pytest.approx(crossover_plot.y_of(db), abs=0.06)
    # ten times the frequency is the same way on the sheet everywhere; 10 dB as well
    assert crossover_plot.x_of(200) - crossover_plot.x_of(20) == pytest.approx(
        crossover_plot.x_of(1000) - crossover_plot.x_of(100))  # fmt: skip
    assert crossover_plot.y_of(-10) - crossover_plot.y_of(0) == crossover_plot.y_of(-20) - crossover_plot.y_of(-10)


def test_golden_of_a_crossover(request: pytest.FixtureRequest) -> None:
    """The plot of the hall's left side as a person has looked at it; `pytest --accept` rewrites."""
    compiled = compile_plan(ROOT / "shows" / "rural-hall" / "house.yaml")
    pair = results(Book.of(compiled, "crew").rig).crossovers[0]
    text = crossover_plot.draw(pair, "crossover-1", ENGLISH).replace("><", ">\n<") + "\n"
    file = GOLDENS / "crossover-plot.svg"
    if request.config.getoption("--accept"):
        file.write_text(text, "utf-8")
    assert text == file.read_text("utf-8")
