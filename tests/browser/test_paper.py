"""Every page of every shipped show as the browser prints it, on A4 and on Letter: what must stay together does."""

from __future__ import annotations

import io
import re
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from helpers import tools
from helpers.sites import Site, shows

if TYPE_CHECKING:
    from playwright.sync_api import Page

pytestmark = pytest.mark.browser

SHEETS = ("A4", "Letter")
# Two tiny words at both ends of whatever must stay on one sheet, to be found again in the text of the sheets. A row of
# the fault patterns may be longer than a sheet is, so its parts are watched instead.
MARK = """() => {
    let count = 0;
    const word = (text) => {
        const el = document.createElement("span");
        el.textContent = " " + text + " ";
        el.style.cssText = "font:2px monospace; letter-spacing:0; white-space:nowrap";
        return el;
    };
    const kinds = "tr, .note p, .caution p, .kit li, .tasks li, .measures > div, .says > div";
    const whole = document.querySelectorAll(kinds);
    for (const el of whole) {
        if (!el.checkVisibility() || el.closest("thead, .script-only") || el.querySelector("ol")) continue;
        const cells = el.matches("tr, div") ? [...el.children].filter(c => c.checkVisibility()) : [el];
        if (!cells.length) continue;
        const number = ++count;
        cells[0].prepend(word(`zqa${number}z`));
        for (const cell of cells) cell.append(word(`zqe${number}z`));
    }
    for (const svg of document.querySelectorAll("svg.drawing")) {
        if (!svg.checkVisibility() || !svg.getBoundingClientRect().width) continue;
        const number = ++count, box = svg.viewBox.baseVal;
        for (const [name, y] of [["zqa", box.y + 10], ["zqe", box.y + box.height - 2]]) {
            const el = document.createElementNS("http://www.w3.org/2000/svg", "text");
            el.textContent = `${name}${number}z`;
            el.setAttribute("x", box.x + 4);
            el.setAttribute("y", y);
            svg.append(el);
        }
    }
    return count;
}"""


@pytest.fixture(scope="module")
def printer() -> Iterator[Page]:
    """A window to print from, without scripts of the pages' own."""
    executable = tools.chromium()
    from playwright.sync_api import sync_playwright

    with sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=executable, args=tools.launch_flags())
        page = browser.new_context(offline=True, reduced_motion="reduce").new_page()
        page.emulate_media(media="print")
        yield page
        browser.close()


def sheets(page: Page, size: str) -> list[str]:
    """The text of each sheet, as printed."""
    pypdf = pytest.importorskip("pypdf")
    return [s.extract_text() for s in pypdf.PdfReader(io.BytesIO(page.pdf(format=size))).pages]


def split(texts: list[str]) -> list[str]:
    """Marked things whose ends are on unlike sheets, by what is beside their mark."""
    first: dict[str, int] = {}
    out = []
    for number, text in enumerate(texts):
        for end, mark in re.findall(r"zq([ae])(\d+)z", text):
            if end == "a":
                first[mark] = number
            elif first.get(mark) != number:
                beside = re.search(rf"zqa{mark}z\s*(.{{0,60}})", texts[first[mark]]) if mark in first else None
                out.append(f"sheet {first.get(mark, -1) + 1} to {number + 1}: {beside.group(1) if beside else mark}")
    return out


BIG_ONES_SLOW = [
    pytest.param(s, id=s.stem, marks=() if s.parent.name != "festival" else pytest.mark.slow) for s in shows()]


@pytest.mark.parametrize("show", BIG_ONES_SLOW)
def test_nothing_that_belongs_together_is_torn(
    show: Path, site_folder: Callable[[Site], Path], printer: Page, subtests: pytest.Subtests
) -> None:
    root = site_folder(Site(show, "crew", "plain"))
    for file in sorted(root.glob("*.html")):
        printer.goto(file.resolve().as_uri())
        if show == shows()[0] and file.stem == "walk-test":  # one show's fault patterns stand for all
            printer.evaluate("document.getElementById('print-all').checked = true")
        marked = printer.evaluate(MARK)
        # the big rigs' many sheets on A4 alone: what holds rows together is the same
        for size in SHEETS if show.parent.name != "festival" else SHEETS[:1]:
            with subtests.test(page=file.stem, size=size):
                texts = sheets(printer, size)
                found = {m for t in texts for m in re.findall(r"zqa(\d+)z", t)}
                assert len(found) >= 0.9 * marked, "marks are not found again, so nothing is shown"
                assert split(texts) == []
                assert all(t.strip() for t in texts), "an empty sheet"


def test_a_torn_row_is_found(site_folder: Callable[[Site], Path], printer: Page) -> None:
    root = site_folder(Site(shows()[0], "crew", "plain"))
    printer.goto((root / "patch.html").resolve().as_uri())
    printer.evaluate(MARK)
    printer.add_style_tag(content="tr { break-inside: auto !important } td * { display: block; padding-top: 11mm }")
    assert split(sheets(printer, "A4"))


@pytest.mark.parametrize("show", shows(), ids=lambda p: p.stem)
def test_each_sheet_says_what_it_is(show: Path, site_folder: Callable[[Site], Path], printer: Page) -> None:
    """From the second on: the show and the page above; on each: its number, how many there are, and the caution."""
    for view, size in (("crew", "A4"), ("guest", "Letter"), ("public", "A4")):
        root = site_folder(Site(show, view, "plain"))
        for name in ("index.html", "venue.html"):
            printer.goto((root / name).resolve().as_uri())
            title, _, handbook = printer.title().partition(" – ")
            texts = sheets(printer, size)
            for number, text in enumerate(texts, 1):
                assert f"{number} / {len(texts)}" in text
                assert "planning estimates" in text
                assert number == 1 or (title in text and handbook in text)


@pytest.mark.parametrize("show", shows(), ids=lambda p: p.stem)
@pytest.mark.parametrize(("view", "theme", "language"), [
    ("crew", "plain", ""), ("guest", "plain", ""), ("crew", "binder", ""),
    *(pytest.param("crew", *look, marks=pytest.mark.slow) for look in (
        ("plain", "de"), ("plain", "fr"), ("binder", "de"), ("binder", "fr"), ("dark-stage", "")))])
def test_ten_minutes_are_one_sheet(
    show: Path, view: str, theme: str, language: str, site_folder: Callable[[Site], Path], printer: Page
) -> None:
    file = site_folder(Site(show, view, theme, language)) / "ten-minutes.html"
    printer.goto(file.resolve().as_uri())
    assert {size: len(sheets(printer, size)) for size in SHEETS} == dict.fromkeys(SHEETS, 1)


def test_links_to_other_sheets_give_their_number(site_folder: Callable[[Site], Path], printer: Page) -> None:
    """On paper nobody taps: a raised number beside a name is the sheet of the title block where more is said."""
    root = site_folder(Site(shows()[0], "crew", "plain"))
    printer.goto((root / "index.html").resolve().as_uri())
    got = printer.evaluate("""() => [...document.querySelectorAll("main .counts a")].map(a =>
        [a.getAttribute("href").replace(/#.*/, ""), getComputedStyle(a, "::after").content.replace(/[^0-9]/g, "")])""")
    numbers = printer.evaluate("""() => [...document.querySelectorAll(".pages a")].map(a =>
        [a.getAttribute("href"), a.querySelector(".num").textContent])""")
    assert got
    assert all([href, number] in numbers for href, number in got)


def test_fault_patterns_are_printed_only_when_asked_for(site_folder: Callable[[Site], Path], printer: Page) -> None:
    """Some thirty sheets of what may be wrong are no part of a walk; steps stand three and more on a sheet."""
    root = site_folder(Site(shows()[0], "crew", "plain"))
    printer.goto((root / "walk-test.html").resolve().as_uri())
    steps = printer.locator(".step").count()
    short, record, patterns = sheets(printer, "A4"), "Walked by", "What is heard, and where to look"
    assert record in "".join(short)
    assert patterns not in "".join(short)
    assert len(short) <= steps / 2 + 3
    printer.evaluate("document.getElementById('print-patterns').checked = true")
    asked = "".join(sheets(printer, "A4"))
    assert patterns in asked
    assert record not in asked
