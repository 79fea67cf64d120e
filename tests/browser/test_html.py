"""Built sites as files: valid HTML, links that lead somewhere, nothing that points out of the folder."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path

import pytest

from helpers import html_checker, links
from helpers.sites import Site, sampled, sites

EVERY = [pytest.param(s, id=str(s), marks=() if s in sampled() else pytest.mark.slow) for s in sites()]


@pytest.mark.browser
@pytest.mark.parametrize("of", [sampled, pytest.param(sites, marks=pytest.mark.slow)])
def test_html_is_valid(of: Callable[[], list[Site]], site_folder: Callable[[Site], Path]) -> None:
    """All pages of many sites in one call, since most of the time is the checker's own start."""
    folders = [site_folder(site) for site in of()]
    assert folders, "no site to check"
    found = html_checker.faults(folders)
    assert not found, "\n".join(found[:50])


@pytest.mark.parametrize("site", EVERY)
def test_links_lead_somewhere(site: Site, site_folder: Callable[[Site], Path]) -> None:
    found = links.faults(site_folder(site))
    assert not found, "\n".join(found[:50])


@pytest.mark.parametrize("site", EVERY)
def test_no_page_promises_safety(site: Site, site_folder: Callable[[Site], Path]) -> None:
    """A page gives cautions and figures; whether a rig is safe is for the people on site to judge."""
    texts = {f.name: re.sub(r"<[^>]*>", " ", f.read_text("utf-8")) for f in sorted(site_folder(site).rglob("*.html"))}
    found = [f"{name}: …{m[0]}…" for name, text in texts.items()
             for m in re.finditer(r".{0,40}\bsafe(?:ly)?\b.{0,20}", text, re.I)]
    assert not found, "\n".join(found)
