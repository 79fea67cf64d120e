"""The page's own signals: its Web Audio graph, rendered in Chromium, measured with scipy; the files hold the same."""

from __future__ import annotations

import base64
import math
from collections.abc import Callable, Iterator
from pathlib import Path

import numpy as np
import pytest
from playwright.sync_api import Page, sync_playwright
from scipy.signal import welch

from helpers import tools
from helpers.sites import Site
from rigbook.walk.signals import BANDS, MAKERS, RATE, period

STATIC = tools.ROOT / "themes" / "plain" / "static"
RENDER = """async ([name, side, db, seconds]) => {
    const context = new OfflineAudioContext(2, seconds * walkSound.RATE, walkSound.RATE);
    walkSound.graph(context, name, side, db);
    const made = await context.startRendering();
    return [0, 1].map((c) => {
        const bytes = new Uint8Array(made.getChannelData(c).buffer);
        let text = "";
        for (let i = 0; i < bytes.length; i += 32768) text += String.fromCharCode(...bytes.subarray(i, i + 32768));
        return btoa(text);
    });
}"""
pytestmark = pytest.mark.browser
Render = Callable[..., np.ndarray]


@pytest.fixture(scope="module")
def blank() -> Iterator[Page]:
    """An empty page with the script in it."""
    executable = tools.chromium()
    with sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=executable, args=tools.launch_flags())
        page = browser.new_page()
        page.set_content("<!doctype html><title>x</title>")
        # a `const` of one script is seen by the next, not by `window`
        for name in ("say.js", "walk-test-sound.js"):
            page.add_script_tag(content=(STATIC / name).read_text("utf-8"))
        yield page
        browser.close()


@pytest.fixture(scope="module")
def render(blank: Page) -> Render:
    """What the graph gives: frames x 2, after its fade."""

    def made(name: str, side: str = "both", db: float = 0, seconds: int = 8, fade: int = 1) -> np.ndarray:
        channels = blank.evaluate(RENDER, [name, side, db, seconds])
        data = np.stack([np.frombuffer(base64.b64decode(c), "<f4") for c in channels], 1).astype(float)
        return data[fade * RATE :]

    return made


@pytest.mark.parametrize("key", [*BANDS, *MAKERS])
def test_the_page_plays_what_the_files_hold(render: Render, key: str) -> None:
    mono, got = period(key), render(key)
    wanted = np.resize(mono, 8 * RATE)[RATE:]
    assert np.abs(got - wanted[:, None]).max() < 2e-6


def test_pink_noise_falls_three_db_an_octave(render: Render) -> None:
    """10 log10(2) = 3.01 dB an octave (IEC 60268-1), between 50 Hz and 10 kHz."""
    freq, power = welch(render("pink", seconds=12)[:, 0], RATE, nperseg=65536, detrend=False)
    middles = 50 * 2 ** (np.arange(23) / 3)
    level = [10 * math.log10(power[(freq >= m / 2 ** (1 / 6)) & (freq < m * 2 ** (1 / 6))].mean()) for m in middles]
    assert np.polyfit(np.log2(middles), level, 1)[0] == pytest.approx(-3.01, abs=0.1)


@pytest.mark.parametrize(("side", "silent"), [("left", 1), ("right", 0)])
def test_the_other_side_is_silent(render: Render, side: str, silent: int) -> None:
    got = render("pink", side, seconds=2)
    assert not got[:, silent].any()
    assert np.sqrt((got[:, 1 - silent] ** 2).mean()) == pytest.approx(0.1, rel=0.1)


def test_sides_take_turns(render: Render) -> None:
    got = render("tone", "turns", seconds=5, fade=0)
    on = [tuple(bool(x) for x in np.abs(part).max(axis=0) > 1e-6) for part in np.split(got, 5)]
    assert on == [(True, False), (False, True)] * 2 + [(True, False)]


def test_it_begins_quiet_and_rises_over_a_second(render: Render, blank: Page) -> None:
    start = blank.evaluate("walkSound.START_DB")
    assert start <= -40
    got = render("tone", db=start, seconds=2, fade=0)
    assert np.abs(got[:480]).max() < 2e-5
    # -20 dBFS of the tone and -40 dB of the fader
    level = 20 * math.log10(np.sqrt((got[RATE:, 0] ** 2).mean()))
    assert level == pytest.approx(start - 20, abs=0.05)


@pytest.fixture
def walk(blank: Page, hall_site: str) -> Iterator[Page]:
    """The walk-test page of the hall, on a phone."""
    context = blank.context.browser.new_context(viewport={"width": 390, "height": 844}, offline=True)
    page = context.new_page()
    page.goto(f"{hall_site}/walk-test.html#step-main-left")
    yield page
    context.close()


@pytest.fixture(scope="module")
def hall_site(site_folder: Callable[[Site], Path]) -> str:
    show = tools.ROOT / "shows" / "rural-hall" / "reel-night.yaml"
    return site_folder(Site(show, "crew", "plain")).resolve().as_uri()


def test_it_says_what_plays_on_which_side_and_stops_with_one_button(walk: Page) -> None:
    walk.get_by_role("button", name="Sound", exact=True).click()
    assert "damages hearing" in walk.locator(".caution-line").inner_text()
    walk.get_by_role("button", name="Play", exact=True).click()
    assert walk.locator(".plays").inner_text() == "Now playing: pink noise, left only"
    stop = walk.get_by_role("button", name="Stop the sound")
    box = stop.bounding_box()
    assert box["width"] > 300
    assert box["height"] >= 56
    stop.click()
    assert walk.locator(".plays").inner_text() == ""
    assert not stop.is_visible()


def test_each_start_is_quiet_and_another_step_is_silent(walk: Page) -> None:
    walk.get_by_role("button", name="Sound", exact=True).click()
    walk.get_by_role("button", name="Play", exact=True).click()
    level = walk.get_by_role("slider")
    level.fill("-10")
    walk.get_by_role("button", name="Stop the sound").click()
    walk.locator("#walk-side").select_option("both")
    walk.get_by_role("button", name="Play", exact=True).click()
    assert level.input_value() == "-40"
    assert walk.evaluate("walkSound.on") == "pink"
    walk.locator(".next-step").click()
    assert walk.evaluate("walkSound.on") == ""


def test_the_sound_ends_when_the_page_is_left(walk: Page) -> None:
    walk.get_by_role("button", name="Sound", exact=True).click()
    walk.get_by_role("button", name="Play", exact=True).click()
    walk.evaluate("dispatchEvent(new PageTransitionEvent('pagehide'))")
    assert walk.evaluate("walkSound.on") == ""
    walk.get_by_role("button", name="Play", exact=True).click()
    walk.evaluate("""() => { Object.defineProperty(document, 'hidden', {value: true, configurable: true});
        document.dispatchEvent(new Event('visibilitychange')); }""")
    assert walk.evaluate("walkSound.on") == ""


def test_the_open_bar_hides_nothing_of_the_step(walk: Page) -> None:
    """The last button of a step can be tapped while the sound plays."""
    walk.get_by_role("button", name="Sound", exact=True).click()
    walk.get_by_role("button", name="Play", exact=True).click()
    walk.locator(".leaf.now .all-good").click(timeout=5000)
    assert walk.locator(".leaf.now [data-ok]:not(:checked)").count() == 0
    walk.locator(".leaf.now textarea").click(timeout=5000)
