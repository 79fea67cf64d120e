"""The Changes page: every link leads somewhere, ticks are told apart, a show against another of its house."""

from __future__ import annotations

import re

from helpers.sites import shows
from rigbook.handbook.make import make
from rigbook.handbook.themes import find_theme
from rigbook.pipeline import compile_plan


def test_links_lead_to_places_and_ticks_differ(hall) -> None:
    other = compile_plan(next(p for p in shows() if p.stem == "parish-revue"))
    files = make(hall, "crew", find_theme("plain"), since=other)
    page = files["changes.html"].decode()
    linked = re.findall(r'href="([\w-]+\.html)#([^"]+)"', page)
    assert linked
    lost = [(f, a) for f, a in linked if f'id="{a}"' not in files[f].decode()]
    assert lost == []
    ticks = re.findall(r'data-tick="([^"]+)"', page)
    assert len(ticks) == len(set(ticks)) > 5


def test_the_front_page_says_how_much_and_leads_there(hall) -> None:
    other = compile_plan(next(p for p in shows() if p.stem == "parish-revue"))
    files = make(hall, "crew", find_theme("plain"), since=other)
    front, page = (re.sub(r"\s+", " ", files[n].decode()) for n in ("index.html", "changes.html"))
    said = re.search(r"<p>(\d+ changes since the earlier plan); (\d+ asks? for something to be done); ([^.]*)\.", page)
    assert said
    assert f'<a href="changes.html">{said[1]}</a>; {said[2]}; {said[3]}</dd>' in front
    assert "changes.html" not in make(hall, "guest", find_theme("plain"), since=other)["index.html"].decode()
    assert "changes.html" not in make(hall, "crew", find_theme("plain"))["index.html"].decode()


def test_against_itself_it_says_so(hall) -> None:
    page = make(hall, "crew", find_theme("plain"), since=hall)["changes.html"].decode()
    assert "Nothing has changed since the earlier plan." in page
    assert "data-tick" not in page
