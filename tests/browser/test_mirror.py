"""What scripts write onto the pages is given to the language too: the mirror, after the scripts have run."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, sync_playwright

from helpers import mirror_text, tools
from rigbook.checks.compiled import Compiled
from rigbook.handbook import mirror
from rigbook.handbook.make import make
from rigbook.handbook.themes import find_theme
from rigbook.handbook.write import write
from rigbook.pipeline import compile_plan

pytestmark = pytest.mark.browser
PLAN = tools.ROOT / "shows" / "rural-hall" / "reel-night.yaml"
GEAR = [p.read_text("utf-8") for p in (tools.ROOT / "compiler" / "rigbook" / "gear").rglob("*.yaml")]


@pytest.fixture(scope="module")
def compiled() -> Compiled:
    return compile_plan(PLAN)


@pytest.fixture(scope="module")
def site(compiled: Compiled, tmp_path_factory: pytest.TempPathFactory) -> Path:
    out = tmp_path_factory.mktemp("mirror") / "site"
    write(make(compiled, "crew", find_theme("plain"), mirror.LANGUAGE), out)
    return out


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    executable = tools.chromium()
    with sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=executable, args=tools.launch_flags())
        yield browser
        browser.close()


def use(page: Page) -> None:
    """Tap what is there to be tapped, so that the scripts say what they have to say."""
    page.evaluate("""() => {
      document.querySelectorAll("details").forEach((d) => { d.open = true; });
      document.querySelector(".next-step")?.click();
      document.querySelector(".step.now .hit, .step .hit")?.click();
    }""")


def test_scripts_speak_the_language_of_the_pages(browser: Browser, site: Path, compiled: Compiled) -> None:
    assert compiled.plan is not None
    known = mirror_text.corpus([*GEAR, *(s.text for s in compiled.sources.values())])
    page = browser.new_context(offline=True, reduced_motion="reduce").new_page()
    wrong = []
    for file in sorted(site.glob("*.html")):
        page.goto(file.resolve().as_uri())
        use(page)
        found = mirror_text.strange(page.evaluate("document.documentElement.outerHTML"), known, compiled.plan.units)
        wrong += [f"{file.name}: {text}" for _, text in found]
    assert wrong == []


@pytest.mark.parametrize("width", [390, 1280])
def test_the_mirrored_layout_stays_in_its_window(browser: Browser, site: Path, width: int) -> None:
    """Texts a third longer and from right to left make no page wider than its window."""
    page = browser.new_context(offline=True, viewport={"width": width, "height": 844}).new_page()
    wide = []
    for file in sorted(site.glob("*.html")):
        page.goto(file.resolve().as_uri())
        if page.evaluate("document.documentElement.scrollWidth") > width:
            wide.append(file.name)
    assert wide == []
    assert page.evaluate("getComputedStyle(document.querySelector('main')).direction") == "rtl"
