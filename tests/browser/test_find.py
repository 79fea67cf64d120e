"""The Find field in Chromium: type, arrow, enter; keyboard first; nothing is loaded before it is used."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from helpers import tools
from helpers.tools import ROOT
from rigbook.handbook.make import make
from rigbook.handbook.themes import find_theme
from rigbook.handbook.write import write
from rigbook.pipeline import compile_plan

if TYPE_CHECKING:
    from playwright.sync_api import Page

pytestmark = pytest.mark.browser
FIELD, OPTION, ACTIVE = "#find", "#find-list [role=option]", "#find-list [aria-selected=true]"


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("find") / "site"
    write(make(compile_plan(ROOT / "shows/rural-hall/reel-night.yaml"), "crew", find_theme("plain")), folder)
    return folder


@pytest.fixture(scope="module")
def window() -> Iterator[Page]:
    executable = tools.chromium()
    from playwright.sync_api import sync_playwright

    with sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=executable, args=tools.launch_flags())
        yield browser.new_context(offline=True, viewport={"width": 1280, "height": 900}).new_page()
        browser.close()


@pytest.fixture
def page(window: Page, site: Path) -> Page:
    window.set_viewport_size({"width": 1280, "height": 900})
    window.goto((site / "index.html").as_uri())
    return window


def typed(page: Page, text: str) -> list[str]:
    """The names that are shown for a text, best first."""
    page.locator(FIELD).fill(text)
    page.wait_for_function("window.rigbookFind")
    page.wait_for_timeout(30)
    return page.locator(f"{OPTION} b").all_inner_texts()


def test_type_arrow_enter_arrives_at_the_place(page: Page) -> None:
    page.keyboard.press("/")
    assert page.evaluate("document.activeElement.id") == "find"
    page.keyboard.type("wedge")
    page.wait_for_selector(OPTION)
    names = page.locator(f"{OPTION} b").all_inner_texts()
    assert len(names) > 3
    assert page.locator(f"{ACTIVE} b").inner_text() == names[0]
    page.keyboard.press("ArrowDown")
    assert page.locator(f"{ACTIVE} b").inner_text() == names[1]
    wanted = page.locator(FIELD).get_attribute("aria-activedescendant")
    assert wanted == page.locator(ACTIVE).get_attribute("id")
    page.keyboard.press("ArrowUp")
    page.keyboard.press("ArrowUp")
    assert page.locator(f"{ACTIVE} b").inner_text() == names[-1], "round from the first to the last"
    page.keyboard.press("ArrowDown")
    page.keyboard.press("Enter")
    page.wait_for_url("**/patch.html#unit-wedge-1")
    assert page.locator(":target h3").inner_text().startswith("wedge-1")


def test_nothing_is_read_before_the_field_is_used(page: Page) -> None:
    assert page.evaluate("!window.rigbookFind && !document.querySelector('script[src*=find-data]')")
    page.locator(FIELD).focus()
    page.wait_for_function("window.rigbookFind")
    assert page.evaluate("document.querySelectorAll('script[src*=find-data]').length") == 1


@pytest.mark.parametrize(("text", "first"), [
    ("ch 7", "7 Whistle"), ("CH7", "7 Whistle"), ("7", "7 Whistle"), ("whis", "7 Whistle"), ("histle", "7 Whistle"),
    ("Lead vöcal", "13 Lead vocal"), ("box in 5", "box/in 5"), ("box/in 5", "box/in 5"), ("mix-2", "mix-2"),
    ("ada", "Ada Fennimore"), ("fennimore", "Ada Fennimore"), ("labels", "Labels"), ("cable sched", "Cable schedule"),
    ("amplifier 500", "amp-tops"), ("fiddle second", "6 Second fiddle"),
    ("in 5", "box/in 5"), ("IN 13", "box/in 13"), ("out 3", "box/out 3"), ("amp tops in a", "amp-tops/in A"),
    ("wedge 2", "wedge-2"), ("mix 3", "mix-3"), ("ch 5", "5 Fiddle"), ("keyboard", "11 Piano"), ("48v", "3 Overhead"),
    ("phantom", "3 Overhead"), ("line-7", "7 Whistle"), ("line 7", "7 Whistle"), ("linecheck", "1 Kick"),
    ("step 2", "main right alone"), ("main left alone", "main left alone"), ("stage rack", "stage-rack"),
    ("di", "4 Upright bass"), ("monitor", "wedge-1"), ("ad fennimore", "Ada Fennimore"),
    # a letter more, less, other, or two changed about
    ("widge 3", "wedge-3"), ("fidle", "5 Fiddle"), ("whistel", "7 Whistle"), ("wwedge 1", "wedge-1"), ("deks", "desk"),
])
def test_what_is_found_first(page: Page, text: str, first: str) -> None:
    assert typed(page, text)[0] == first


FESTIVAL = [
    ("mix-3", "monitors mix-3"), ("kick in", "foh 25 Kick in"), ("lead vocal", "foh 43 Lead vocal"),
    ("foh box 1 in 5", "foh-box-1/in 5"), ("split 1 a 16", "split-1/a 16"), ("monitors 25", "monitors 25 Kick in"),
    ("foh.line-25", "foh 25 Kick in"), ("sub 2", "sub-2"), ("delay left", "delay-left"), ("limit", "Limits"),
    ("tumpet", "foh 17 Trumpet"), ("ears 1", "ears-1"),
]
GERMAN = [
    ("Kanal 5", "foh 5 Acoustic guitar"), ("Endstufe", "amp-delays"), ("stagebox", "foh-box-1"),
    ("Schritt 3", "subs allein"), ("Buehne", "Bühne"), ("funk", "Funk"), ("line check 25", "foh 25 Kick in"),
]


@pytest.mark.parametrize(("language", "queries"), [("en", FESTIVAL), ("de", GERMAN)])
def test_what_is_found_first_with_two_desks_and_in_german(
    window: Page, tmp_path: Path, subtests: pytest.Subtests, language: str, queries: list[tuple[str, str]]
) -> None:
    plan = compile_plan(ROOT / "shows/festival/meadow.yaml")
    write(make(plan, "crew", find_theme("plain"), language), tmp_path / "site")
    window.goto((tmp_path / "site/index.html").as_uri())
    for text, first in queries:
        with subtests.test(text=text):
            assert typed(window, text)[0] == first


def test_what_is_only_nearly_found_says_so(page: Page) -> None:
    assert typed(page, "widge 3")[0] == "wedge-3"
    assert page.locator(".find [role=status]").inner_text().startswith("Nothing is called so")
    assert page.locator("#find-list .find-more").first.is_visible()
    assert typed(page, "wedge 33") == [], "a number is meant as it is typed"


def test_a_short_code_is_found_however_it_is_typed(page: Page) -> None:
    page.locator(FIELD).focus()
    page.wait_for_function("window.rigbookFind")
    code = page.evaluate("window.rigbookFind.rows.find(r => window.rigbookFind.sorts[r[0]] === 'Cable')[1]")
    for text in (code, code.lower(), code.replace("-", ""), code.replace("-", " ")):
        assert typed(page, text)[0] == code
    assert typed(page, code[:5])[0] == code


def test_escape_clears_then_leaves_and_the_count_is_said(page: Page) -> None:
    names = typed(page, "fiddle")
    assert page.locator(".find [role=status]").inner_text() == f"{len(names)} found"
    assert page.locator(FIELD).get_attribute("aria-expanded") == "true"
    assert page.locator("#find-list [role=group]").count() > 1, "grouped by sort"
    page.keyboard.press("Escape")
    assert page.locator(FIELD).input_value() == "" and page.locator(FIELD).get_attribute("aria-expanded") == "false"
    assert typed(page, "zzzz") == []
    assert page.locator(".find [role=status]:not(.quiet)").inner_text() == "Nothing found"
    page.keyboard.press("Escape")
    page.keyboard.press("Escape")
    assert page.evaluate("document.activeElement === document.body")


def test_a_slash_is_a_slash_where_something_is_typed(page: Page) -> None:
    page.locator(FIELD).focus()
    page.keyboard.type("box/out")
    assert page.locator(FIELD).input_value() == "box/out"


def test_options_are_large_enough_for_a_finger_and_a_tap_goes_there(page: Page) -> None:
    """44 px: WCAG 2.2, 2.5.5 (enhanced)."""
    page.set_viewport_size({"width": 360, "height": 740})
    typed(page, "vocal")
    for option in page.locator(OPTION).all():
        box = option.bounding_box()
        assert box is not None and box["height"] >= 44 and box["x"] >= 0 and box["x"] + box["width"] <= 360
    page.locator(OPTION).first.click()
    page.wait_for_url("**/patch.html#channel-*")


@pytest.mark.parametrize("text", ["vocal", "a", "zzzz"])
def test_the_open_list_is_accessible(page: Page, text: str) -> None:
    """axe-core, with the list open: few, more than are shown, none."""
    page.evaluate(tools.node_file("axe-core/axe.min.js").read_text("utf-8"))
    shown = len(typed(page, text))
    assert shown == 40 if text == "a" else shown == 0 if text == "zzzz" else shown > 1
    found = page.evaluate("async () => (await axe.run(document.querySelector('.find'))).violations.map(v => v.help)")
    assert found == []


def test_without_scripts_there_is_no_field(window: Page, site: Path) -> None:
    browser = window.context.browser
    assert browser is not None
    plain = browser.new_context(offline=True, java_script_enabled=False).new_page()
    plain.goto((site / "index.html").as_uri())
    assert not plain.locator(FIELD).is_visible()
    assert plain.locator(".pages a").count() > 5
    plain.context.close()
