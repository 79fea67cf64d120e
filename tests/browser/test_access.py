"""Every page of every show: 400 % zoom, reduced motion, the keyboard alone, and paper (WCAG 2.2: 1.4.10, 2.3.3, 2.1.1,
2.4.7). axe-core, contrast and names are in test_pages.py.
"""

from __future__ import annotations

import io
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from helpers import tools
from helpers.sites import Site, sites

if TYPE_CHECKING:
    from playwright.sync_api import Browser, Page

pytestmark = pytest.mark.browser

CREW = [s for s in sites() if s.view == "crew" and s.theme == "plain"]
ZOOMED = {"width": 320, "height": 256}
"""1280 x 1024 px at 400 % (WCAG 2.2, 1.4.10)."""
REFLOW = """() => {
    const faults = [];
    const wide = document.documentElement.clientWidth;
    if (document.scrollingElement.scrollWidth > wide) faults.push(`${document.scrollingElement.scrollWidth} px wide`);
    // what may scroll sideways: tables and drawings, in a region that the keyboard reaches and that has a name
    for (const box of document.querySelectorAll("main *")) {
        if (box.scrollWidth <= box.clientWidth + 1 || !/auto|scroll/.test(getComputedStyle(box).overflowX)) continue;
        const fine = box.tabIndex === 0 && box.ariaLabel && box.getAttribute("role") === "region";
        if (!fine && box.localName !== "pre") faults.push(`${box.localName}.${box.className} scrolls sideways unnamed`);
        const flat = box.querySelector("table, svg, pre, [class*=sheet], [class*=strip]") || box.localName === "pre";
        if (!flat) faults.push(`${box.className}: neither table, drawing nor a sheet to scale`);
    }
    for (const head of document.querySelectorAll(".title-block")) {  // what stays in view leaves room for the page
        const stays = getComputedStyle(head).position === "sticky";
        if (stays && head.offsetHeight > innerHeight / 3) faults.push("the head takes the window");
    }
    return faults;
}"""
MOVES = """() => [...document.querySelectorAll("*")].flatMap((el) => {
    const s = getComputedStyle(el);
    const long = (text) => text.split(",").some((t) => parseFloat(t) > 0);
    const moves = (s.animationName !== "none" && long(s.animationDuration)) || long(s.transitionDuration)
        || s.scrollBehavior === "smooth";
    return moves ? [`${el.localName}.${el.className} moves`] : [];
})"""
REACHABLE = """() => {
    const all = "a[href], button, input, select, textarea, summary, [tabindex='0'], audio[controls]";
    const shown = (el) => el.checkVisibility({ visibilityProperty: true, opacityProperty: true })
        && !el.closest("[hidden], [inert], svg") && !el.disabled
        && (el.type !== "radio" || el.checked);  // of a group Tab meets the one that is chosen
    return [...document.querySelectorAll(all)].filter(shown).length;
}"""
FOCUSED = """() => {
    const el = document.activeElement;
    if (!el || el === document.body) return null;
    const s = getComputedStyle(el);
    const inner = el.ownerSVGElement && el.querySelector("rect:not(.reach), text");
    const ring = parseFloat(s.outlineWidth) >= 2 && s.outlineStyle !== "none";
    const stroke = inner && parseFloat(getComputedStyle(inner).strokeWidth) >= 3;
    const box = el.getBoundingClientRect();
    const hidden = box.bottom <= 0 || box.top >= innerHeight;
    el.__seen = (el.__seen || 0) + 1;
    return { svg: Boolean(el.ownerSVGElement), again: el.__seen > 1, ring: ring || Boolean(stroke), hidden,
             what: `${el.localName}.${el.className.baseVal ?? el.className} ${el.textContent.trim().slice(0, 30)}` };
}"""


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    from playwright.sync_api import sync_playwright

    with sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=tools.chromium(), args=tools.launch_flags())
        yield browser
        browser.close()


@pytest.fixture
def page(browser: Browser) -> Iterator[Page]:
    context = browser.new_context(reduced_motion="reduce", offline=True)
    yield context.new_page()
    context.close()


@pytest.mark.parametrize("site", [s for s in sites() if s.theme == "plain"], ids=str)
def test_at_400_percent_nothing_scrolls_sideways_but_tables_and_drawings(
    site: Site, site_folder: Callable[[Site], Path], page: Page, subtests: pytest.Subtests
) -> None:
    page.set_viewport_size(ZOOMED)
    for file in sorted(site_folder(site).glob("*.html")):
        with subtests.test(page=file.name):
            page.goto(file.as_uri())
            assert page.evaluate(REFLOW) == []


@pytest.mark.parametrize("site", CREW[:1], ids=str)
def test_nothing_moves_for_those_who_want_it_still(
    site: Site, site_folder: Callable[[Site], Path], page: Page
) -> None:
    for file in sorted(site_folder(site).glob("*.html")):
        page.goto(file.as_uri())
        assert page.evaluate(MOVES) == [], file.name


@pytest.mark.parametrize("site", [s for s in CREW if s.show.stem in ("reel-night", "lessons-and-songs")], ids=str)
def test_the_keyboard_reaches_everything_and_is_seen(
    site: Site, site_folder: Callable[[Site], Path], page: Page, subtests: pytest.Subtests
) -> None:
    """Tab through the whole page: each control once, with a ring or a heavy stroke, and within the window."""
    page.set_viewport_size({"width": 1280, "height": 800})
    for file in sorted(site_folder(site).glob("*.html")):
        with subtests.test(page=file.name):
            page.goto(file.as_uri())
            wanted = page.evaluate(REACHABLE)
            met = 0
            for _ in range(wanted * 2 + 200):
                page.keyboard.press("Tab")
                at = page.evaluate(FOCUSED)
                if at is None or at["again"]:
                    break
                met += not at["svg"]
                assert at["ring"], f"{at['what']}: no ring"
                assert not at["hidden"], f"{at['what']}: out of the window"
            assert met >= wanted, f"{met} of {wanted} reached"


@pytest.mark.parametrize("paper", ["A4", "Letter"])
@pytest.mark.parametrize("site", [
    pytest.param(s, id=str(s), marks=() if s.show.parent.name != "festival" else pytest.mark.slow) for s in CREW])
def test_every_page_prints_whole(
    site: Site, paper: str, site_folder: Callable[[Site], Path], page: Page, subtests: pytest.Subtests
) -> None:
    """Read back from the PDF by another library (pypdf): the heading, a number on each sheet, nothing empty."""
    pypdf = pytest.importorskip("pypdf")
    for file in sorted(site_folder(site).glob("*.html")):
        with subtests.test(page=file.name):
            page.goto(file.as_uri())
            heading = page.locator("h1").inner_text()
            pdf = pypdf.PdfReader(io.BytesIO(page.pdf(prefer_css_page_size=True, format=paper)))
            texts = [sheet.extract_text() for sheet in pdf.pages]
            assert heading in texts[0]
            if file.name == "labels.html":
                continue  # sheets of labels, to the edge of their own paper
            for i, text in enumerate(texts, 1):
                assert f"{i} / {len(texts)}" in text
                assert len(text.split()) > 12, f"sheet {i} of {len(texts)} is all but empty: {text!r}"
