"""A handbook on a phone: served from a sub-folder it is kept and opens without a network, never old beside new; each
page opens where it was left; what is tapped is large enough for a gloved finger (WCAG 2.2, 2.5.5: 44 px).
"""

from __future__ import annotations

import threading
from collections.abc import Callable, Iterator
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from shutil import copytree
from typing import TYPE_CHECKING

import pytest

from helpers import tools
from helpers.sites import Site, shows, sites
from rigbook.handbook.make import make
from rigbook.handbook.themes import find_theme
from rigbook.handbook.write import write
from rigbook.pipeline import compile_plan
from rigbook.walk.steps import steps

if TYPE_CHECKING:
    from playwright.sync_api import Browser, BrowserContext

pytestmark = pytest.mark.browser

HALL = next(p for p in shows() if p.stem == "reel-night")
PHONE = {"viewport": {"width": 390, "height": 780}, "has_touch": True, "is_mobile": True}
TARGETS = (Path(__file__).parents[1] / "helpers" / "target_probe.js").read_text("utf-8")
HELD_ANEW = """async (old) => {
    for (let keys = [old]; keys.length !== 1 || keys[0] === old; keys = await caches.keys()) {
        await new Promise((next) => setTimeout(next, 50));
    }
}"""


class Quiet(SimpleHTTPRequestHandler):
    """Serves files and says nothing; while `held_up` is set it answers nobody."""

    held_up = threading.Event()
    go_on = threading.Event()

    def do_GET(self) -> None:
        """A file, when it is allowed to."""
        if self.held_up.is_set():
            self.go_on.wait(30)
        super().do_GET()

    def log_message(self, *args: object) -> None:
        """Nothing."""


class Server:
    """A web host that can be stopped and started again at the same address."""

    def __init__(self, root: Path) -> None:
        self._root = root
        self._port = 0
        self.start()

    def start(self) -> None:
        self._http = ThreadingHTTPServer(("127.0.0.1", self._port), partial(Quiet, directory=str(self._root)))
        self._port = self._http.server_port
        self.address = f"http://localhost:{self._port}/deep/handbook/"
        threading.Thread(target=self._http.serve_forever, daemon=True).start()

    def stop(self) -> None:
        self._http.shutdown()
        self._http.server_close()


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    from playwright.sync_api import sync_playwright

    with sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=tools.chromium(), args=tools.launch_flags())
        yield browser
        browser.close()


@pytest.fixture
def phone(browser: Browser) -> Iterator[BrowserContext]:
    context = browser.new_context(**PHONE)
    yield context
    context.close()


@pytest.fixture
def server(tmp_path: Path) -> Iterator[Server]:
    files = make(compile_plan(HALL), "crew", find_theme("plain"))
    (tmp_path / "deep").mkdir()
    write(files, tmp_path / "deep" / "handbook")
    server = Server(tmp_path)
    yield server
    server.stop()


def test_it_opens_without_a_network_and_never_old_beside_new(
    server: Server, phone: BrowserContext, tmp_path: Path
) -> None:
    page = phone.new_page()
    page.goto(server.address)
    page.evaluate("navigator.serviceWorker.ready")
    page.wait_for_function("navigator.serviceWorker.controller")
    server.stop()
    page.goto(server.address + "patch.html")
    assert page.locator("h1").inner_text() == "Patch", "a page that was not opened before"
    assert page.evaluate("getComputedStyle(document.body).backgroundColor") != "rgba(0, 0, 0, 0)", "with its looks"
    page.goto(server.address)
    assert page.locator("h1").inner_text() == "Winter reel night", "the folder itself"
    kept = page.evaluate("caches.keys()")

    plan = tmp_path / "plan.yaml"
    text = HALL.read_text("utf-8").replace("show: Winter reel night", "show: Spring reel night")
    copytree(HALL.parent, tmp_path / "shows")
    plan = tmp_path / "shows" / "spring.yaml"
    plan.write_text(text, "utf-8")
    write(make(compile_plan(plan), "crew", find_theme("plain")), tmp_path / "deep" / "handbook")
    server.start()
    page.goto(server.address)
    assert page.locator("h1").inner_text() == "Spring reel night", "the new build at the first look"
    page.evaluate(HELD_ANEW, kept[0])
    server.stop()
    page.goto(server.address + "routing.html")
    assert "Spring reel night" in page.locator(".title-block").inner_text(), "the new build without a network"
    server.start()


def test_a_server_that_does_not_answer_is_not_waited_for(server: Server, phone: BrowserContext) -> None:
    """A full network takes the request and never answers: the page that is held comes, and its files with it."""
    page = phone.new_page()
    page.goto(server.address)
    page.evaluate("navigator.serviceWorker.ready")
    page.wait_for_function("navigator.serviceWorker.controller")
    Quiet.go_on.clear()
    Quiet.held_up.set()
    try:
        page.goto(server.address + "patch.html", timeout=20_000, wait_until="load")
        assert page.locator("h1").inner_text() == "Patch"
        assert page.evaluate("getComputedStyle(document.body).backgroundColor") != "rgba(0, 0, 0, 0)"
    finally:
        Quiet.held_up.clear()
        Quiet.go_on.set()


def test_it_can_be_installed(server: Server, phone: BrowserContext) -> None:
    """Asked of the browser itself: its manifest is read without an error and has the icons that it wants."""
    page = phone.new_page()
    page.goto(server.address)
    page.evaluate("navigator.serviceWorker.ready")
    found = phone.new_cdp_session(page).send("Page.getAppManifest")
    assert found["errors"] == []
    assert found["url"] == server.address + "app.webmanifest"


def test_from_a_memory_stick_nothing_is_asked_for(site_folder: Callable[[Site], Path], phone: BrowserContext) -> None:
    root = site_folder(Site(HALL, "crew", "plain"))
    page = phone.new_page()
    asked: list[str] = []
    page.on("request", lambda r: asked.append(r.url.rpartition("/")[2]))
    page.goto((root / "index.html").as_uri())
    assert not {"app.webmanifest", "worker.js"} & set(asked)
    assert page.locator("link[rel=manifest]").count() == 0


def test_each_page_opens_where_it_was_left(site_folder: Callable[[Site], Path], phone: BrowserContext) -> None:
    root = site_folder(Site(HALL, "crew", "plain"))
    page = phone.new_page()
    at: dict[str, int] = {}
    for name, y in (("patch.html", 2300), ("routing.html", 900)):
        page.goto((root / name).as_uri())
        for fold_all in page.locator(".fold-all").all():
            fold_all.click()  # what was opened stays open
        page.evaluate(f"scrollTo(0, {y})")
        page.wait_for_timeout(400)
        at[name] = page.evaluate("scrollY")
        assert at[name] > 500
    for name, y in at.items():
        page.goto((root / name).as_uri())
        assert page.evaluate("scrollY") == pytest.approx(y, abs=3), name
    page.goto((root / "patch.html").as_uri() + "#cables")
    mark = page.locator("#cables").bounding_box()
    assert mark is not None
    assert -10 < mark["y"] < 200, "an address with a place goes there"
    page.goto((root / "rack.html").as_uri())
    page.goto((root / "index.html").as_uri() + "#resume")
    page.wait_for_url("**/rack.html")


@pytest.mark.parametrize("site", [s for s in sites() if s.theme == "plain" and s.view != "guest"], ids=str)
def test_what_is_tapped_is_large_enough(
    site: Site, site_folder: Callable[[Site], Path], phone: BrowserContext, subtests: pytest.Subtests
) -> None:
    page = phone.new_page()
    root = site_folder(site)
    for file in sorted(root.glob("*.html")):
        with subtests.test(page=file.name):
            page.goto(file.as_uri())
            faults = page.evaluate(TARGETS)
            assert not faults, f"{len(faults)} too small:\n" + "\n".join(faults[:15])


def test_captions_take_the_width_and_steps_are_counted_as_on_the_front_page(
    tmp_path: Path, phone: BrowserContext
) -> None:
    compiled = compile_plan(HALL)
    write(make(compiled, "crew", find_theme("plain")), tmp_path / "site")
    page = phone.new_page()
    for name in ("ten-minutes", "speakers", "patch"):
        page.goto((tmp_path / "site" / f"{name}.html").as_uri())
        widths = page.evaluate(
            "[...document.querySelectorAll('.stack caption:not(.quiet)')].map((c) => c.clientWidth / "
            "c.closest('table').clientWidth)"
        )
        assert all(w > 0.95 for w in widths), name
    assert compiled.rig is not None
    count = len(steps(compiled.rig))
    page.goto((tmp_path / "site" / "walk-test.html").as_uri())
    where = page.locator(".bar .where span").first
    assert where.inner_text() == "Begin"
    page.locator(".bar .next-step").click()
    assert where.inner_text().startswith(f"step 1 of {count}: ")
