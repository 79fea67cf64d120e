"""The tuning sheet on a phone: what is typed is there after the page is opened anew, and leaves as a text file."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from helpers import tools
from helpers.sites import Site, shows

if TYPE_CHECKING:
    from playwright.sync_api import Page

pytestmark = pytest.mark.browser

HALL = next(p for p in shows() if p.stem == "reel-night")


def field(page: Page, name: str) -> str:
    return f'[data-field="{name}"]'


def test_what_is_typed_stays_and_goes_out(site_folder: Callable[[Site], Path]) -> None:
    from playwright.sync_api import sync_playwright

    address = (site_folder(Site(HALL, "crew", "plain")) / "tuning-sheet.html").as_uri()
    with sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=tools.chromium(), args=tools.launch_flags())
        page = browser.new_context(viewport={"width": 390, "height": 780}, accept_downloads=True).new_page()
        page.goto(address)
        page.click(".fold-all")
        first, second = (f"desk bus main left {hz} Hz found" for hz in ("100", "125"))
        page.fill(field(page, "by"), "Ada")
        page.fill(field(page, first), "-4.5")
        page.press(field(page, first), "Enter")
        assert page.evaluate("document.activeElement.dataset.field") == second, "down the column with the Enter key"
        page.keyboard.type("3")
        page.goto(address)
        assert page.input_value(field(page, first)) == "-4.5"
        assert page.input_value(field(page, second)) == "3"
        with page.expect_download() as download:
            page.click("[data-save]")
        text = Path(download.value.path()).read_text("utf-8")
        assert download.value.suggested_filename.startswith("reel-night.tuning-")
        assert "Tuned by: Ada" in text
        assert "bus main left\n  100 Hz: Found, dB -4.5\n  125 Hz: Found, dB 3\n" in text
        page.on("dialog", lambda d: d.accept())
        page.click("[data-clear]")
        page.goto(address)
        assert page.input_value(field(page, first)) == ""
        browser.close()
