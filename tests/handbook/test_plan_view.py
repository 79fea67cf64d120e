"""plan_view and section_view: read from the drawing as a person would, by its scale bar."""

from __future__ import annotations

import math
import re
from pathlib import Path
from xml.etree import ElementTree as Tree

import pytest

from helpers.tools import ROOT
from rigbook.compute.results import results
from rigbook.handbook.book import Book
from rigbook.handbook.drawings import plan_view, section_view
from rigbook.handbook.scene import scene
from rigbook.handbook.tongue import ENGLISH
from rigbook.pipeline import compile_plan

SVG = "{http://www.w3.org/2000/svg}"
GOLDENS = Path(__file__).parent / "goldens"
STAGE_M, AREA_M = (7.0, 4.5), (9.0, 11.0)
"""Of shows/rural-hall/house.yaml: stage 7 x 4.5 m; floor 9 m wide, from 3 to 14 m out."""


@pytest.fixture(scope="module")
def drawn() -> tuple[Tree.Element, Tree.Element]:
    compiled = compile_plan(ROOT / "shows" / "rural-hall" / "house.yaml")
    got = scene(Book.of(compiled, "crew"))
    return tuple(Tree.fromstring(d.draw(got, ENGLISH, "t")) for d in (plan_view, section_view))  # type: ignore[return-value]


def of(sheet: Tree.Element, css: str, tag: str = "path") -> list[Tree.Element]:
    return [e for e in sheet.iter(f"{SVG}{tag}") if css in e.get("class", "").split()]


def numbers(path: Tree.Element) -> list[float]:
    return [float(n) for n in re.findall(r"-?\d+\.?\d*", path.get("d", ""))]


def per_metre(sheet: Tree.Element) -> float:
    """Pixels for a metre, from the scale bar and what is written at its end."""
    long = sum(float(of(sheet, css, "rect")[0].get("width", 0)) for css in ("bar-filled", "bar-open"))
    said = next(e.text for e in of(sheet, "axis", "text") if re.fullmatch(r"[\d.]+ m", e.text or "")
                and e.get("text-anchor") == "middle")  # fmt: skip
    return long / float(str(said).removesuffix(" m"))


def test_stage_and_area_are_to_scale(drawn: tuple[Tree.Element, Tree.Element]) -> None:
    plan, _ = drawn
    (stage,), (area,) = of(plan, "stage-outline", "rect"), of(plan, "area")
    scale = per_metre(plan)
    assert (float(stage.get("width", 0)), float(stage.get("height", 0))) == pytest.approx(
        [m * scale for m in STAGE_M], abs=0.3)  # fmt: skip
    xs, ys = numbers(area)[::2], numbers(area)[1::2]
    assert (max(xs) - min(xs), max(ys) - min(ys)) == pytest.approx([m * scale for m in AREA_M], abs=0.3)
    edge = float(stage.get("y", 0)) + float(stage.get("height", 0))
    assert min(ys) - edge == pytest.approx(3 * scale, abs=0.3), "the floor begins 3 m before the stage"


def test_the_coverage_opens_as_the_kind_says_about_the_aim(drawn: tuple[Tree.Element, Tree.Element]) -> None:
    """top-12 has 90° across; top-left aims 18° to the right, so its sector runs from 27° left to 63° right."""
    plan, _ = drawn
    left = next(e for e in of(plan, "cover") if e.findtext(f"{SVG}title") == "top-left")
    x, y, x1, y1, r, _, _, _, _, x2, y2 = numbers(left)
    turns = [math.degrees(math.atan2(a - x, b - y)) for a, b in ((x1, y1), (x2, y2))]
    assert turns == pytest.approx([18 - 45, 18 + 45], abs=0.3)
    assert math.hypot(x1 - x, y1 - y) == pytest.approx(r, abs=0.2)


def test_every_placed_box_is_named_once_and_leads_to_its_place(drawn: tuple[Tree.Element, Tree.Element]) -> None:
    plan, section = drawn
    compiled = compile_plan(ROOT / "shows" / "rural-hall" / "house.yaml")
    boxes = {b.name: b for b in results(Book.of(compiled, "crew").rig).boxes.all}
    links = {e.get("href"): "".join(e.itertext()) for e in plan.iter(f"{SVG}a")}
    assert {f"routing.html#box-{n}": n for n in boxes} == {h: t for h, t in links.items() if "#box-" in h}
    said = " ".join("".join(e.itertext()) for e in section.iter(f"{SVG}text"))
    assert all((b.name in said) == (not b.to_stage) for b in boxes.values())


def test_a_box_that_is_nowhere_is_not_drawn(book) -> None:
    got = scene(book())  # the wedge of the small plan has no place
    assert [m.name for m in got.marks] == ["top-left", "top-right"]
    assert scene(book("plan: 1\nshow: A\nunits: {box: powered-top-12}\n")).marks == ()
    assert plan_view.draw(scene(book("plan: 1\nshow: A\n")), ENGLISH, "t") == ""
    assert section_view.draw(scene(book("plan: 1\nshow: A\n")), ENGLISH, "t") == ""


def test_heights_and_tilt_from_the_side(drawn: tuple[Tree.Element, Tree.Element]) -> None:
    """top-left hangs 3.1 m up and tilts 12° down, turned 18°: from the side tan t' = tan 12° / cos 18°."""
    _, section = drawn
    scale = per_metre(section)
    (floor,) = of(section, "floor")
    ground = numbers(floor)[1]
    ray = numbers(of(section, "axis-ray")[0])
    assert ground - ray[1] == pytest.approx(3.1 * scale, abs=0.3)
    looks = math.degrees(math.atan2(ray[3] - ray[1], ray[2] - ray[0]))
    steeper = math.degrees(math.atan(math.tan(math.radians(12)) / math.cos(math.radians(18))))
    assert looks == pytest.approx(steeper, abs=0.2)
    (ears,) = of(section, "ears")
    assert ground - numbers(ears)[1] == pytest.approx(1.2 * scale, abs=0.3), "ears of a seated listener"


def test_rays_end_at_the_ears_of_the_first_and_last_row(drawn: tuple[Tree.Element, Tree.Element]) -> None:
    _, section = drawn
    scale, (ears,) = per_metre(section), of(section, "ears")
    front, height, rear = numbers(ears)[0], numbers(ears)[1], numbers(ears)[2]
    ends = [(float(e.get("cx", 0)), float(e.get("cy", 0))) for e in section.iter(f"{SVG}circle")]
    assert {y for _, y in ends} == {height}
    assert min(x for x, _ in ends) - front < scale
    assert rear - max(x for x, _ in ends) < scale


def test_a_large_site_has_its_stage_closer() -> None:
    compiled = compile_plan(ROOT / "shows" / "festival" / "meadow.yaml")
    got = scene(Book.of(compiled, "crew"))
    whole, close = (Tree.fromstring(d(got, ENGLISH, "t")) for d in (plan_view.draw, plan_view.draw_close_up))
    names = [{"".join(e.itertext()) for e in s.iter(f"{SVG}a") if "#box-" in e.get("href", "")} for s in (whole, close)]
    assert names[0] | names[1] == {m.name for m in got.marks}
    assert not names[0] & names[1]
    assert per_metre(close) > 1.5 * per_metre(whole)


@pytest.mark.parametrize("n", [0, 1])
def test_goldens(drawn: tuple[Tree.Element, Tree.Element], n: int, request: pytest.FixtureRequest) -> None:
    """The drawings of the hall as a person has looked at them; `pytest --accept` rewrites."""
    compiled = compile_plan(ROOT / "shows" / "rural-hall" / "house.yaml")
    view = (plan_view, section_view)[n]
    text = view.draw(scene(Book.of(compiled, "crew")), ENGLISH, "Village hall").replace("><", ">\n<") + "\n"
    file = GOLDENS / f"{('plan', 'section')[n]}-view.svg"
    if request.config.getoption("--accept"):
        file.write_text(text, "utf-8")
    assert text == file.read_text("utf-8")
