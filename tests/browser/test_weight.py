"""What the front page of a public site costs on a first visit over HTTP: everything that is transferred, counted."""

from __future__ import annotations

import functools
import http.server
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from helpers import tools
from helpers.sites import Site, sites

pytestmark = pytest.mark.browser

MOST = 100_000
"""Bytes, heads included, without compression by the server; a small page on a phone in a field."""


class Quiet(http.server.SimpleHTTPRequestHandler):
    """Serves a folder and keeps count of what it sends."""

    def log_message(self, *args: object) -> None:
        """Nothing on the terminal."""

    def setup(self) -> None:
        super().setup()
        write, count = self.wfile.write, self.server.sent

        def counted(data: bytes) -> int:
            count.append(len(data))
            return write(data)

        self.wfile.write = counted


@contextmanager
def served(folder: Path) -> Iterator[tuple[str, list[int]]]:
    """The address of a folder on this machine alone, and the sizes of what was sent."""
    server = http.server.ThreadingHTTPServer(("127.0.0.1", 0), functools.partial(Quiet, directory=str(folder)))
    server.sent = []
    thread = threading.Thread(target=server.serve_forever, daemon=True)
    thread.start()
    try:
        yield f"http://127.0.0.1:{server.server_port}/", server.sent
    finally:
        server.shutdown()
        server.server_close()
        thread.join()


@pytest.mark.parametrize("site", [s for s in sites() if s.view == "public"], ids=str)
def test_the_front_page_of_a_public_site_is_light(
    site: Site, site_folder: Callable[[Site], Path], record_property: Callable[[str, object], None]
) -> None:
    executable = tools.chromium()
    from playwright.sync_api import sync_playwright

    with served(site_folder(site)) as (address, sent), sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=executable, args=tools.launch_flags())
        page = browser.new_page()
        asked: list[str] = []
        page.on("request", lambda r: asked.append(r.url))
        page.goto(address, wait_until="networkidle")
        blocking = page.evaluate(
            "() => [...document.querySelectorAll('head script[src]:not([defer]):not([async])')].map(s => s.src)")
        browser.close()
    record_property("bytes", sum(sent))
    assert sum(sent) < MOST, f"{sum(sent)} bytes for {len(asked)} files: {asked}"
    assert not blocking
    assert all(url.startswith((address, "data:")) for url in asked)
