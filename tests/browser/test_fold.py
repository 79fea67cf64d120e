"""Long pages fold by their headings on a phone; links, anchors and paper open them; without a script nothing folds."""

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
    from playwright.sync_api import Browser, Page

pytestmark = pytest.mark.browser
PHONE = {"width": 390, "height": 844}
SEEN = """(id) => {
    const box = document.getElementById(id).getBoundingClientRect(), bar = document.querySelector(".title-block");
    return box.height > 0 && box.top >= bar.offsetHeight - 2 && box.top < innerHeight;
}"""


@pytest.fixture(scope="module")
def sites(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    plan = compile_plan(ROOT / "shows/festival/meadow.yaml")
    made = {theme: tmp_path_factory.mktemp(theme) / "site" for theme in ("plain", "binder")}
    for theme, folder in made.items():
        write(make(plan, "crew", find_theme(theme)), folder)
    return made


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    from playwright.sync_api import sync_playwright

    with sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=tools.chromium(), args=tools.launch_flags())
        yield browser
        browser.close()


@pytest.fixture
def phone(browser: Browser) -> Iterator[Page]:
    context = browser.new_context(offline=True, viewport=PHONE, reduced_motion="reduce")
    yield context.new_page()
    context.close()


def opened(page: Page) -> int:
    return page.locator("details.fold[open]").count()


LONG = ("patch", "routing", "speakers", "labels", "pull-list", "set-up", "tuning-sheet", "rack")


@pytest.mark.parametrize("name", LONG)
def test_a_long_page_is_a_few_screens_long(phone: Page, sites: dict[str, Path], name: str) -> None:
    phone.goto((sites["plain"] / f"{name}.html").as_uri())
    assert phone.evaluate("document.documentElement.scrollHeight / innerHeight") < 7
    assert opened(phone) == 0
    for summary in phone.locator("details.fold > summary").all():
        box = summary.bounding_box()
        assert box is not None and box["height"] >= 44, "44 px: WCAG 2.2, 2.5.5"
        assert summary.locator("h2, h3").count() == 1 and summary.locator("a").count() == 0
    cautions = phone.locator("section.caution")
    assert all(c.is_visible() for c in cautions.all()), "the caution of a page never folds away"


def test_a_short_page_and_a_desk_stay_as_they_are(phone: Page, sites: dict[str, Path]) -> None:
    phone.goto((sites["plain"] / "venue.html").as_uri())
    assert phone.locator("details.fold").count() == 0
    phone.goto((sites["binder"] / "patch.html").as_uri())
    assert phone.locator("details.fold").count() == 0, "in a ring binder nothing is folded away"
    phone.set_viewport_size({"width": 1280, "height": 900})
    phone.goto((sites["plain"] / "patch.html").as_uri())
    assert phone.locator("details.fold").count() == 0


@pytest.mark.parametrize("place", ["socket-split-1--a-16", "unit-wedge-3", "channel-monitors-17", "cables"])
def test_what_is_led_to_is_open_and_in_sight(phone: Page, sites: dict[str, Path], place: str) -> None:
    patch = (sites["plain"] / "patch.html").as_uri()
    phone.goto(f"{patch}#{place}")
    phone.wait_for_timeout(100)
    assert phone.evaluate(SEEN, place)
    phone.goto((sites["plain"] / "venue.html").as_uri())
    phone.goto(patch)
    phone.evaluate("document.querySelectorAll('details.fold').forEach((f) => { f.open = false })")
    phone.evaluate("(id) => { location.hash = id }", place)
    phone.wait_for_timeout(100)
    assert phone.evaluate(SEEN, place)


def test_the_find_field_opens_what_it_finds_on_the_same_page(phone: Page, sites: dict[str, Path]) -> None:
    phone.goto((sites["plain"] / "patch.html").as_uri())
    phone.locator("#find").fill("split-1/a 16")
    phone.wait_for_selector("#find-list [role=option]")
    phone.keyboard.press("Enter")
    phone.wait_for_timeout(100)
    assert phone.evaluate(SEEN, "socket-split-1--a-16")
    head = phone.locator("details.fold[open] > summary").bounding_box()
    assert head is not None and head["y"] > 0, "the name of the device stays in sight above its sockets"


def test_what_was_open_stays_open_and_ticks_are_counted(phone: Page, sites: dict[str, Path]) -> None:
    phone.goto((sites["plain"] / "patch.html").as_uri())
    fold = phone.locator("details.fold", has=phone.locator("#unit-amp-delays, h3:text-is('amp-delays')")).first
    fold.locator("summary").focus()
    phone.keyboard.press("Enter")
    assert fold.get_attribute("open") is not None, "with the keyboard as with a finger"
    assert fold.locator(".fold-tells").inner_text() == "4 rows"
    fold.locator("input[data-tick]").first.check()
    assert fold.locator(".fold-tells").inner_text() == "1 of 4 ticked"
    phone.reload()
    assert opened(phone) == 1 and fold.locator(".fold-tells").inner_text() == "1 of 4 ticked"
    clear = phone.locator("button", has_text="Clear the ticks")
    clear.click()
    assert fold.locator(".fold-tells").inner_text() == "4 rows"
    phone.locator("button", has_text="Put the ticks back").click()
    assert fold.locator(".fold-tells").inner_text() == "1 of 4 ticked" and clear.count() == 1
    phone.locator("button", has_text="Open all").click()
    assert opened(phone) == phone.locator("details.fold").count()
    phone.locator("button", has_text="Fold all").click()
    assert opened(phone) == 0


@pytest.mark.parametrize("name", ["patch", "routing"])
def test_folded_and_opened_pages_are_accessible(phone: Page, sites: dict[str, Path], name: str) -> None:
    """axe-core, folded and with two folds open."""
    phone.goto((sites["plain"] / f"{name}.html").as_uri())
    phone.evaluate(tools.node_file("axe-core/axe.min.js").read_text("utf-8"))
    run = "async () => (await axe.run(document)).violations.map((v) => `${v.help}: ${v.nodes[0].target}`)"
    assert phone.evaluate(run) == []
    for summary in phone.locator("details.fold > summary").all()[:2]:
        summary.click()
    assert phone.evaluate(run) == []


def test_backwards_with_the_keyboard_nothing_hides_behind_the_head_of_a_fold(
    browser: Browser, sites: dict[str, Path]
) -> None:
    """WCAG 2.2, 2.4.11, at 400 percent of 1280 px."""
    page = browser.new_context(offline=True, viewport={"width": 320, "height": 640}).new_page()
    page.goto((sites["plain"] / "patch.html").as_uri())
    page.locator("details.fold", has=page.locator("h3:text-is('split-1')")).last.locator("summary").click()
    page.locator("[id^='socket-split-1--a-'] input").nth(8).focus()
    for _ in range(12):
        page.keyboard.press("Shift+Tab")
        assert page.evaluate("""() => {
            const box = document.activeElement.getBoundingClientRect();
            const top = document.elementFromPoint(box.left + box.width / 2, box.top + box.height / 2);
            return document.activeElement.contains(top) || top.contains(document.activeElement);
        }""")
    page.context.close()


def test_on_paper_everything_is_open(phone: Page, sites: dict[str, Path]) -> None:
    phone.goto((sites["plain"] / "power.html").as_uri())
    phone.evaluate("""addEventListener("beforeprint", () => {
        window.shut = document.querySelectorAll("details.fold:not([open])").length;
    })""")
    phone.pdf()
    assert phone.evaluate("window.shut") == 0
    assert opened(phone) == 0, "and closed again after it"


def test_without_scripts_nothing_folds(browser: Browser, sites: dict[str, Path]) -> None:
    context = browser.new_context(offline=True, viewport=PHONE, java_script_enabled=False)
    page = context.new_page()
    page.goto((sites["plain"] / "patch.html").as_uri())
    assert page.locator("details.fold").count() == 0
    assert page.locator("#socket-split-1--a-16").is_visible()
    context.close()
