"""The record, from taps on a phone to the next build: kept across reloads, saved, read beside the plan, shown again."""

from __future__ import annotations

import shutil
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, sync_playwright

from helpers import tools
from rigbook.cli import main
from rigbook.pipeline import compile_plan
from rigbook.walk.record import last_walk, records, stale_steps

pytestmark = pytest.mark.browser
SHOW = "reel-night"
ODD = 'Says "hum": a \\ and # and – ü ש\nsecond line: {not: yaml}'


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    executable = tools.chromium()
    with sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=executable, args=tools.launch_flags())
        yield browser
        browser.close()


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A copy of the hall's plans, to be built and written beside."""
    shutil.copytree(tools.ROOT / "shows" / "rural-hall", tmp_path / "plans")
    (tmp_path / ".git").mkdir()
    build(tmp_path)
    return tmp_path


def build(folder: Path) -> None:
    assert main(["build", str(folder / "plans" / f"{SHOW}.yaml"), "--out", str(folder / "site")]) in (0, 1)


@pytest.fixture
def phone(browser: Browser) -> Iterator[Callable[[], BrowserContext]]:
    """A device of its own: nothing is kept between two of them."""
    made: list[BrowserContext] = []

    def new() -> BrowserContext:
        made.append(browser.new_context(viewport={"width": 390, "height": 844}, offline=True, accept_downloads=True))
        return made[-1]

    yield new
    for context in made:
        context.close()


def at(context: BrowserContext, folder: Path, place: str) -> Page:
    page = context.new_page()
    page.goto(f"{(folder / 'site/walk-test.html').resolve().as_uri()}#{place}")
    return page


def good(page: Page) -> None:
    page.locator(".leaf.now .all-good").click()


def go(page: Page, step: str) -> None:
    page.evaluate("(id) => { location.hash = id; }", step)
    page.locator(f"#{step}.now").wait_for()


def save(page: Page, folder: Path) -> Path:
    """The record, put beside the plan."""
    go(page, "record")
    with page.expect_download() as got:
        page.get_by_role("button", name="Save the record").click()
    target = folder / "plans" / got.value.suggested_filename
    got.value.save_as(target)
    return target


def test_what_was_tapped_is_there_after_a_reload(phone, folder: Path) -> None:
    page = at(phone(), folder, "step-main-left")
    good(page)
    go(page, "step-subs")
    page.locator("#step-subs tr[data-hear='sub-left'] .hit").click()
    page.locator("#step-subs textarea").fill(ODD)
    page.reload()
    assert page.locator("#step-subs tr[data-hear='sub-left'] .hit").get_attribute("aria-pressed") == "true"
    assert page.locator("#step-subs textarea").input_value() == ODD
    assert page.locator("#step-subs .finder").is_visible()
    go(page, "step-main-left")
    assert page.locator("#step-main-left [data-ok]:not(:checked)").count() == 0
    go(page, "record")
    rows = {r.locator("dt").inner_text(): r.locator("dd").inner_text() for r in page.locator(".results > div").all()}
    assert rows["main left alone"] == "as it must be"
    assert rows["subs alone"].startswith("sub-left ")
    assert rows["main right alone"] == "not heard"


def test_the_record_is_read_beside_the_plan_and_shown(phone, folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    page = at(phone(), folder, "step-main-left")
    good(page)
    go(page, "step-main-right")
    page.locator("#step-main-right tr[data-hear] [data-ok]").first.check()
    go(page, "step-subs")
    page.locator("#step-subs tr[data-hear='sub-left'] .hit").click()
    page.locator("#step-subs textarea").fill(ODD)
    go(page, "record")
    page.get_by_label("Walked by").fill('Ada "the ear": Fennimore')
    page.locator("#record textarea").fill("All quiet.")
    path = save(page, folder)
    assert path.name.startswith(f"{SHOW}.walk-2")
    assert path.name.endswith(".yaml")
    assert path.read_text("utf-8") == page.locator(".record-text").text_content()
    capsys.readouterr()
    assert main(["check", str(folder / "plans" / f"{SHOW}.yaml")]) == 0
    assert main(["check", str(path), "--fail-on", "note"]) == 0
    rig = compile_plan(folder / "plans" / f"{SHOW}.yaml").rig
    walk = last_walk(rig)
    assert walk.by == ('Ada "the ear": Fennimore',)
    said = {w.step: w.said for w in walk.words}
    assert said["main-left"] == "as expected"
    assert said["main-right"].startswith("not finished, 1 of ")
    assert said["subs"].startswith("sub-left ")
    (note,) = walk.notes
    assert str(note.get("text").text) == f"All quiet.\n\nsubs: {ODD}"
    stale = {s.key: s.why for s in stale_steps(rig)}
    assert "main-left" not in stale
    assert (stale["subs"], stale["mix-1"]) == ("not as expected", "not walked")
    build(folder)
    for name in ("index.html", "walk-test.html"):
        text = (folder / "site" / name).read_text("utf-8")
        assert "Fennimore" in text
        assert walk.date in text
        assert "1 of 3 steps as expected" in text


def test_two_phones_make_one_walk(phone, folder: Path) -> None:
    files = []
    for name, step in (("Ada", "step-main-left"), ("Tobin", "step-main-right")):
        page = at(phone(), folder, step)
        good(page)
        if name == "Tobin":
            go(page, "step-main-left")
            page.locator("#step-main-left tr[data-hear='top-left'] select").select_option("quiet")
        go(page, "record")
        page.get_by_label("Walked by").fill(name)
        files.append(save(page, folder))
    assert files[0] != files[1]
    rig = compile_plan(folder / "plans" / f"{SHOW}.yaml").rig
    assert len(records(rig)) == 2
    walk = last_walk(rig)
    assert set(walk.by) == {"Ada", "Tobin"}
    # one heard the left as it must be, the other did not: it is asked again
    assert {w.step: w.good for w in walk.words} == {"main-right": True, "main-left": False}


def test_without_a_name_the_phones_are_told_apart(phone, folder: Path) -> None:
    for _ in range(2):
        page = at(phone(), folder, "step-main-left")
        good(page)
        save(page, folder)
    walk = last_walk(compile_plan(folder / "plans" / f"{SHOW}.yaml").rig)
    assert len(set(walk.by)) == 2
    assert all(name.startswith("phone ") for name in walk.by)


def test_after_a_change_only_what_it_touches_is_forgotten(phone, folder: Path) -> None:
    context = phone()
    page = at(context, folder, "step-main-left")
    good(page)
    go(page, "step-main-right")
    good(page)
    house = folder / "plans" / "house.yaml"
    house.write_text(house.read_text("utf-8").replace("amp-tops/out B -> top-right, 10 m",
                                                      "amp-tops/out B -> top-right, 15 m"), "utf-8")
    build(folder)
    page = at(context, folder, "step-main-left")
    assert page.locator("#step-main-left [data-ok]:not(:checked)").count() == 0
    go(page, "step-main-right")
    assert page.locator("#step-main-right [data-ok]:checked").count() == 0


def test_another_window_of_the_device_is_followed(phone, folder: Path) -> None:
    context = phone()
    one, two = at(context, folder, "step-main-left"), at(context, folder, "step-main-left")
    good(one)
    two.wait_for_function("!document.querySelector('#step-main-left [data-ok]:not(:checked)')")
    go(two, "step-main-right")
    good(two)
    go(one, "step-main-right")
    one.wait_for_function("!document.querySelector('#step-main-right [data-ok]:not(:checked)')")
    go(one, "step-main-left")
    one.reload()
    assert one.locator("#step-main-left [data-ok]:not(:checked)").count() == 0


def test_answers_can_be_forgotten(phone, folder: Path) -> None:
    page = at(phone(), folder, "step-main-left")
    good(page)
    go(page, "record")
    page.on("dialog", lambda d: d.accept())
    page.get_by_role("button", name="Forget all answers").click()
    assert page.locator("[data-ok]:checked").count() == 0
    assert page.get_by_role("button", name="Save the record").is_disabled()
    page.reload()
    assert page.locator("[data-ok]:checked").count() == 0


def test_a_day_for_each_step(phone, folder: Path) -> None:
    """What was heard a month ago does not become today's."""
    page = at(phone(), folder, "step-main-left")
    good(page)
    page.evaluate("""() => {
        const name = Object.keys(localStorage).find((k) => k.startsWith("rigbook walk "));
        const kept = JSON.parse(localStorage[name]);
        kept.times["main-left"] -= 30 * 24 * 3600 * 1000;
        localStorage[name] = JSON.stringify(kept);
    }""")
    page.reload()
    go(page, "step-main-right")
    good(page)
    save(page, folder)
    rig = compile_plan(folder / "plans" / f"{SHOW}.yaml").rig
    assert len(records(rig)) == 2
    assert [w.step for w in last_walk(rig).words] == ["main-right"]
    assert {"main-left", "main-right"}.isdisjoint({s.key for s in stale_steps(rig)})
