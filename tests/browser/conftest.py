"""Fixtures of the browser tests: one Chromium a process, each site built once a run, never a server."""

from __future__ import annotations

import atexit
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from functools import lru_cache
from pathlib import Path

import pytest
from playwright import sync_api
from playwright.sync_api import Playwright

from helpers import tools
from helpers.inspector import Inspector
from helpers.sites import Site, built


@contextmanager
def _one_driver() -> Iterator[Playwright]:
    """The driver of this process: started once, ended with it. A second one beside a running one is an error."""
    yield _started()


@lru_cache(maxsize=1)
def _started() -> Playwright:
    driver = START().start()
    atexit.register(driver.stop)
    return driver


# test modules open their browsers by `sync_playwright()`; all of them get the one driver
START = sync_api.sync_playwright
sync_api.sync_playwright = _one_driver  # type: ignore[assignment]


@pytest.fixture(scope="session")
def shared(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder that all processes of this test run share."""
    base = tmp_path_factory.getbasetemp()
    folder = (base.parent if base.name.startswith("popen-") else base) / "sites"
    folder.mkdir(exist_ok=True)
    return folder


@pytest.fixture(scope="session")
def site_folder(shared: Path) -> Callable[[Site], Path]:
    """Gives a site's folder and builds it when it is first asked for."""
    return lambda site: built(site, shared)


@pytest.fixture(scope="session")
def inspector() -> Iterator[Inspector]:
    """The page checks, in a browser that stays open."""
    executable, axe = tools.chromium(), tools.node_file("axe-core/axe.min.js").read_text("utf-8")
    with sync_api.sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=executable, args=tools.launch_flags())
        yield Inspector(browser, axe)
        browser.close()
