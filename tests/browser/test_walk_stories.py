"""Two stories at a walk test, tapped through on a phone without network: swapped tops, and a sub that stays silent.

The one who taps knows nothing: what a test shows is what the fault makes of it, as the table of the plan has it.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from helpers import tools
from helpers.sites import Site, shows
from helpers.walk_rigs import rig_at
from rigbook.walk.answers import outcome_words
from rigbook.walk.finder import titles_of
from rigbook.walk.say import probe_words
from rigbook.walk.suspects import next_probe, suspects
from rigbook.walk.table import Row, Seen, Table

if TYPE_CHECKING:
    from playwright.sync_api import Page

pytestmark = pytest.mark.browser

(SHOW,) = [p for p in shows() if p.stem == "reel-night"]
PROBES = 3


@pytest.fixture(scope="module")
def table() -> Table:
    return Table.of(rig_at(SHOW))


@pytest.fixture
def phone(site_folder: Callable[[Site], Path]) -> Iterator[Page]:
    """The walk-test page on a small phone in the dark, offline."""
    executable = tools.chromium()
    page_file = site_folder(Site(SHOW, "crew", "plain")) / "walk-test.html"
    from playwright.sync_api import sync_playwright

    with sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=executable, args=tools.launch_flags())
        context = browser.new_context(
            viewport={"width": 390, "height": 844}, has_touch=True, is_mobile=True, color_scheme="dark", offline=True
        )
        page = context.new_page()
        wrong: list[str] = []
        page.on("pageerror", lambda error: wrong.append(str(error)))
        page.on("request", lambda r: wrong.append(r.url) if not r.url.startswith("file:") else None)
        page.goto(page_file.as_uri())
        yield page
        browser.close()
        assert wrong == []


class Walk:
    """A person with the phone."""

    def __init__(self, page: Page, table: Table, row: Row) -> None:
        self.page, self.table, self.row = page, table, row
        self.answers: dict[Seen, str] = {}

    def go_to(self, step: str) -> None:
        """Tap on to a step, as one walks."""
        for _ in range(len(self.table.steps) + 1):
            if self.page.locator(f".leaf.now[data-step='{step}']").count():
                return
            self.page.tap(".next-step")
        raise AssertionError(step)

    def hear(self, step: str, box: str) -> None:
        """Tap what a box does that it must not."""
        seen = Seen("hear", step, box)
        value = self.answers[seen] = self.row.effects[seen]
        if value == "silent":
            self.page.tap(f".now tr[data-hear='{box}'] .hit")
        else:
            self.page.tap(f".now .hush .hit:text-is('{box}')")

    def tick(self, step: str, box: str) -> None:
        self.answers[Seen("hear", step, box)] = ""
        self.page.tap(f".now tr[data-hear='{box}'] [data-ok]")

    def probe(self) -> bool:
        """Do what the page proposes, and tap what came of it; False where it proposes nothing."""
        test = next_probe(self.table, suspects(self.table, self.answers), self.answers)
        shown = self.page.locator(".finder .next strong")
        if test is None:
            assert shown.count() == 0
            return False
        order = probe_words(self.table.rig, test.seen, titles_of(self.table).get(test.seen.play, ""))
        assert shown.inner_text() in (f"Next: {order}", f"To be sure: {order}")
        value = self.answers[test.seen] = self.row.effects.get(test.seen, "")
        words = outcome_words(self.table, test.seen, value)
        self.page.locator(".finder .next .hit", has_text=re.compile(f"^{re.escape(words)}$")).tap()
        return True

    def suspects(self) -> list[str]:
        return self.page.locator(".finder ol > li").all_inner_texts()


def row(table: Table, key: str) -> Row:
    return next(r for r in table.testable if r.fault.key == key)


def test_swapped_tops(phone: Page, table: Table) -> None:
    """The speaker cables of the tops are exchanged at the amplifier."""
    walk = Walk(phone, table, row(table, "crossed amp-tops/out A -> top-left/in and amp-tops/out B -> top-right/in"))
    walk.go_to("main-right")
    walk.hear("main-right", "top-right")
    assert len(walk.suspects()) > 1
    walk.hear("main-right", "top-left")
    assert phone.locator(".bar .where button:visible").first.inner_text().startswith("what may be wrong")
    probes = 0
    while probes < PROBES and walk.probe():
        probes += 1
    (last,) = walk.suspects()
    assert "amp-tops/out A -> top-left/in and amp-tops/out B -> top-right/in are exchanged" in last
    assert "read the labels of both plugs at amp-tops/out A and amp-tops/out B" in last
    names = phone.locator(".finder ol > li a").all()
    assert {"amp-tops/out A", "amp-tops/out A -> top-left/in"} <= {n.inner_text() for n in names}
    assert all((n.get_attribute("href") or "").startswith("patch.html#") for n in names)


def test_dead_sub(phone: Page, table: Table) -> None:
    """One of two subs is broken; the other plays."""
    walk = Walk(phone, table, row(table, "dead sub-left/in"))
    walk.go_to("subs")
    walk.tick("subs", "sub-right")
    walk.hear("subs", "sub-left")
    assert len(walk.suspects()) > 3
    probes = 0
    while probes < PROBES and walk.probe():
        probes += 1
    assert len(walk.suspects()) <= 3
    while walk.probe():
        pass
    (last,) = walk.suspects()
    assert "sub-left is broken" in last
    assert "plug the cable of sub-left into a speaker that works" in last
    assert "Put the cables back afterwards" in phone.locator(".finder").inner_text()


def test_an_input_that_hums(phone: Page, table: Table) -> None:
    """In the line check: the bass hums, and the ground lift of its DI ends it."""
    phone.evaluate("location.hash = 'line-check'")
    line = phone.locator("tr[data-step='line-4']")
    line.locator("summary").tap()
    hums = line.locator(".hits", has_text="tap what hums").get_by_role("button")
    assert set(hums.all_inner_texts()) == set(next(x for x in table.lines if x.key == "line-4").heard)
    for button in hums.all():
        button.tap()
    pressed = line.locator(".hits button[aria-pressed=true]")
    assert pressed.count() == hums.count(), "it hums, and is not silent besides"
    finder = phone.locator(".finder:visible")
    assert finder.locator("ol > li").count() == 3
    assert "set the ground lift of the DI in box/in 4 the other way" in finder.locator(".next strong").inner_text()
    finder.locator(".next .hit", has_text="now it is right").tap()
    (last,) = finder.locator("ol > li").all_inner_texts()
    assert "an earth loop runs by the DI of channel 4 Upright bass" in last


def test_not_sure_asks_for_another_test_and_mended_hears_again(phone: Page, table: Table) -> None:
    walk = Walk(phone, table, row(table, "dead sub-left/in"))
    walk.go_to("subs")
    walk.tick("subs", "sub-right")
    walk.hear("subs", "sub-left")
    before, asked = walk.suspects(), phone.locator(".finder .next strong").inner_text()
    phone.tap(".finder .next .hit:text-is('not sure')")
    assert walk.suspects() == before
    assert phone.locator(".finder .next strong").inner_text() != asked
    assert phone.locator(".finder .tried").inner_text().startswith(asked.removeprefix("Next: "))
    phone.tap(".finder .tried .hit")
    assert phone.locator(".finder .next strong").inner_text() == asked
    phone.tap(".finder .big:text-is('It is mended: hear again what was wrong')")
    assert phone.locator(".finder").is_hidden()
    # what was as it must be stays; what was wrong is open
    assert phone.locator(".now tr[data-hear='sub-right'] [data-ok]").is_checked()
    assert phone.locator(".now tr[data-hear='sub-left'] .hit").get_attribute("aria-pressed") == "false"


def test_answers_stay_when_the_page_is_opened_again(phone: Page, table: Table) -> None:
    walk = Walk(phone, table, row(table, "dead sub-left/in"))
    walk.go_to("subs")
    walk.hear("subs", "sub-left")
    before = walk.suspects()
    phone.reload()
    walk.go_to("subs")
    assert walk.suspects() == before
    phone.tap(".now tr[data-hear='sub-left'] .hit")
    assert phone.locator(".finder").is_hidden()
