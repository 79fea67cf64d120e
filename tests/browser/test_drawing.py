"""The signal-flow drawing in a browser: opens to sockets, lights a way, is worked by keyboard, keeps its state in the
address, and goes to paper whole; words stay within their blocks in the type that is really used.
"""

from __future__ import annotations

import io
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING
from unicodedata import normalize

import pytest

from helpers import tools
from helpers.sites import Site, shows

if TYPE_CHECKING:
    from playwright.sync_api import Browser, Page

pytestmark = pytest.mark.browser

MEADOW = next(p for p in shows() if p.stem == "meadow")
HALL = next(p for p in shows() if p.stem == "reel-night")
STROKE = "e => parseFloat(getComputedStyle(e).strokeWidth)"
OUTSIDE = """() => {
    const faults = [];
    for (const link of document.querySelectorAll("svg.flow-live > a, svg.flow-live .sockets > a")) {
        const block = link.closest(".sockets")?.previousElementSibling || link;
        const frame = block.querySelector("rect.block").getBoundingClientRect();
        for (const text of link.querySelectorAll("text")) {
            const t = text.getBoundingClientRect();
            if (t.left < frame.left || t.right > frame.right || t.top < frame.top - 1 || t.bottom > frame.bottom + 1) {
                faults.push(text.textContent);
            }
        }
    }
    return faults;
}"""
OVER = """() => {  // rows of one block whose words meet, and blocks that overlap
    const faults = [];
    const meet = (a, b) => a.left < b.right - .5 && b.left < a.right - .5
        && a.top < b.bottom - .5 && b.top < a.bottom - .5;
    const blocks = [...document.querySelectorAll("svg.flow-live rect.block")].map((r) => r.getBoundingClientRect());
    blocks.forEach((a, i) => blocks.slice(i + 1).forEach((b) => { if (meet(a, b)) faults.push("blocks overlap"); }));
    for (const group of document.querySelectorAll("svg.flow-live .sockets")) {
        const words = [...group.querySelectorAll("text")].map((t) => [t.textContent, t.getBoundingClientRect()]);
        words.forEach(([w, a], i) => words.slice(i + 1).forEach(([v, b]) => {
            if (meet(a, b)) faults.push(`${w} / ${v}`);
        }));
    }
    return faults;
}"""
TOUCHED = """() => {  // lines that pass over a block or a word
    const blocks = [...document.querySelectorAll("svg.flow-live rect.block")].map((r) => r.getBBox());
    const within = (p, b) => p.x > b.x + 1 && p.x < b.x + b.width - 1 && p.y > b.y + 1 && p.y < b.y + b.height - 1;
    const faults = [];
    for (const wire of document.querySelectorAll("svg.flow-live .wire")) {
        const length = wire.getTotalLength();
        for (let at = 2; at < length - 2; at += 3) {
            const p = wire.getPointAtLength(at);
            if (blocks.some((b) => within(p, b))) {
                faults.push(wire.getAttribute("class"));
                break;
            }
        }
    }
    return faults;
}"""


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    from playwright.sync_api import sync_playwright

    with sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=tools.chromium(), args=tools.launch_flags())
        yield browser
        browser.close()


@pytest.fixture
def opened(browser: Browser, site_folder: Callable[[Site], Path]) -> Iterator[Callable[..., Page]]:
    """Opens the front page of a show's crew handbook, with or without scripts."""
    contexts = []

    def go(show: Path = MEADOW, fragment: str = "", scripts: bool = True, width: int = 1280) -> Page:
        context = browser.new_context(java_script_enabled=scripts, viewport={"width": width, "height": 800})
        contexts.append(context)
        page = context.new_page()
        page.goto((site_folder(Site(show, "crew", "plain")) / "index.html").as_uri() + fragment)
        return page

    yield go
    for context in contexts:
        context.close()


def test_without_scripts_every_device_leads_to_its_place(opened: Callable[..., Page]) -> None:
    page = opened(scripts=False)
    assert page.locator(".flow-tools").is_hidden()
    links = page.locator("#signal-flow > a")
    assert links.count() > 45
    assert page.locator("#signal-flow").is_visible()
    links.filter(has_text="amp-subs").click()
    assert page.url.endswith("patch.html#unit-amp-subs")


def test_a_device_opens_to_its_sockets_and_closes(opened: Callable[..., Page]) -> None:
    page = opened()
    block = page.get_by_role("button", name="amp-subs 4 in, 4 out")
    assert block.get_attribute("aria-expanded") == "false"
    block.click()
    assert block.get_attribute("aria-expanded") == "true"
    sockets = page.locator("svg.flow-live .sockets a")
    assert sockets.all_text_contents() == [
        "in A", "out A", "in B ← link A", "out B", "in C ← link B", "out C", "in D ← link C", "out D"]
    assert page.url.endswith("#flow-amp-subs")
    assert page.locator(".flow-says a").get_attribute("href") == "patch.html#unit-amp-subs"
    assert sockets.first.get_attribute("href") == "patch.html#socket-amp-subs--in-A"
    block.click()
    assert sockets.count() == 0
    assert "#" not in page.url


def test_the_way_to_a_speaker_is_lit_and_the_rest_is_quiet(opened: Callable[..., Page]) -> None:
    page = opened()
    page.get_by_role("button", name="wedge-3").click()
    lit = page.locator("svg.flow-live > a.lit").evaluate_all("all => all.map(a => a.querySelector('text').textContent)")
    assert set(lit) == {"Monitors", "mon-box-1", "amp-wedges-1", "wedge-3"}
    assert page.locator("svg.flow-live .wire.lit").count() == 3
    strokes = [page.locator(f"svg.flow-live .wire{s}").first.evaluate(STROKE) for s in (".lit", ":not(.lit)")]
    assert strokes[0] > 2 * strokes[1], "not by colour alone"
    assert page.locator(".flow-tools select").input_value() == "wedge-3"
    page.keyboard.press("Escape")
    assert page.locator("svg.flow-live .lit").count() == 0


def test_everything_by_keyboard(opened: Callable[..., Page]) -> None:
    page = opened(HALL)
    page.locator(".flow-tools select").focus()
    page.keyboard.type("top-left")
    page.locator(".flow-tools select").dispatch_event("change")
    assert page.url.endswith("#flow-top-left")
    names = []
    for _ in range(40):
        page.keyboard.press("Tab")
        role = page.evaluate("document.activeElement.getAttribute('role')")
        if role == "button":
            names.append(page.evaluate("document.activeElement.textContent"))
            ring = page.evaluate("getComputedStyle(document.activeElement.querySelector('rect.block')).strokeWidth")
            assert ring == "3.5px", "what has the keyboard is seen"
    assert len(names) == page.locator("svg.flow-live > a").count(), "each device is reached"
    amp = page.get_by_role("button", name="amp-tops")
    amp.focus()
    page.keyboard.press("Enter")
    assert amp.get_attribute("aria-expanded") == "true"
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.textContent") == "in A", "and its sockets after it"
    amp.focus()
    page.keyboard.press("Space")
    assert amp.get_attribute("aria-expanded") == "false"
    page.keyboard.press("Escape")
    assert page.locator("svg.flow-live .lit").count() == 0


def test_an_address_brings_the_same_view_back(opened: Callable[..., Page]) -> None:
    page = opened(fragment="#flow-fill-4,foh,amp-subs")
    assert page.locator("svg.flow-live > a[aria-pressed=true]").all_text_contents() == ["fill-4"]
    assert page.locator("svg.flow-live > a[aria-expanded=true]").count() == 2
    assert page.locator("svg.flow-live .sockets").get_by_text("43 Lead vocal").count() == 1
    page.evaluate("location.hash = '#flow-sub-1'")
    page.wait_for_function("document.querySelector('.flow-tools select').value === 'sub-1'")


@pytest.mark.parametrize(("show", "fragment"), [
    (MEADOW, ""), (MEADOW, "#flow-split-1,split-2,foh,monitors,drum-box,broadcast,mon-box-1-in,foh-box-1"), (HALL, ""),
    (HALL, "#flow-top-left,desk,box-in,box,amp-tops,amp-subs,sources-box"),
])
def test_no_word_is_crossed_or_cut_however_much_is_open(
    opened: Callable[..., Page], show: Path, fragment: str
) -> None:
    page = opened(show, fragment)
    assert page.evaluate(OUTSIDE) == []
    assert page.evaluate(OVER) == []
    assert page.evaluate(TOUCHED) == []


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_paper_gets_the_whole_drawing_closed(opened: Callable[..., Page], paper: str) -> None:
    """Read back from the PDF by another library (pypdf): one sheet on its side holds every device."""
    pypdf = pytest.importorskip("pypdf")
    page = opened(fragment="#flow-fill-4,foh,amp-subs")
    sheets = pypdf.PdfReader(io.BytesIO(page.pdf(prefer_css_page_size=True, format=paper))).pages
    across = [s for s in sheets if s.mediabox.width > s.mediabox.height]
    assert len(across) == 1
    text = normalize("NFKC", across[0].extract_text())  # the type joins f and i
    for name in page.locator("#signal-flow > a .block-title").all_text_contents():
        assert name in text, name
    assert "43 Lead vocal" not in text, "paper gets it closed"
    assert "Light the way" not in text
    assert len(sheets) <= 4


def test_what_is_tapped_on_a_phone_is_44_px_high(opened: Callable[..., Page]) -> None:
    page = opened(width=390)
    heights = page.locator("svg.flow-live > a").evaluate_all("all => all.map(a => a.getBoundingClientRect().height)")
    assert min(heights) >= 43.5
