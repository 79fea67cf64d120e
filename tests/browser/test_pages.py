"""Every page of every shipped show, in every view and theme: accessible, whole, offline, with and without scripts."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from helpers.inspector import Inspector
from helpers.sites import Site, sampled, sites

pytestmark = pytest.mark.browser


def test_there_are_sites() -> None:
    assert sites(), "no show below shows/ or no theme below themes/"


EVERY = [pytest.param(s, id=str(s), marks=() if s in sampled() else pytest.mark.slow) for s in sites()]


@pytest.mark.parametrize("site", EVERY)
def test_every_page(
    site: Site, site_folder: Callable[[Site], Path], inspector: Inspector, subtests: pytest.Subtests
) -> None:
    root = site_folder(site)
    for file in sorted(root.rglob("*.html")):
        with subtests.test(page=file.relative_to(root).as_posix()):
            faults = inspector.inspect(root, file)
            if faults:
                pytest.fail("\n".join(faults), pytrace=False)
