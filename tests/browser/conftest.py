"""Fixtures of the browser tests: one Chromium a process, each site built once a run, never a server."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from helpers import tools
from helpers.inspector import Inspector
from helpers.sites import Site, built


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
    from playwright.sync_api import sync_playwright

    with sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=executable, args=tools.launch_flags())
        yield Inspector(browser, axe)
        browser.close()
