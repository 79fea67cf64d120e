"""Anchors: from the name alone, unlike for unlike names."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from rigbook.handbook.anchors import PAGES, anchor, href, slug

UNIT = st.from_regex(r"[a-z][a-z0-9]{0,4}(-[a-z0-9]{1,3}){0,2}", fullmatch=True)
PORT = st.from_regex(r"(in|out|line|link)( ([1-9][0-9]?|[A-D]))?", fullmatch=True)
SOCKET = st.builds("{}/{}".format, UNIT, PORT)


def test_a_socket_and_a_unit_that_look_alike_differ() -> None:
    assert slug("amp/in 1") == "amp--in-1"
    assert slug("amp-in-1") == "amp-in-1"
    assert anchor("cable", "box/out 1 -> amp/in A") == "cable-box--out-1---amp--in-A"


def test_an_address_is_the_page_and_the_anchor() -> None:
    assert href("socket", "box/out 3") == "patch.html#socket-box--out-3"
    assert set(PAGES.values()) == {
        "patch.html", "routing.html", "rack.html", "walk-test.html", "set-up.html", "checks.html", "venue.html",
        "power.html", "radio.html"}


@given(st.sets(SOCKET, min_size=2, max_size=20), st.sets(UNIT, max_size=5))
def test_unlike_sockets_units_and_cables_have_unlike_anchors(sockets: set[str], units: set[str]) -> None:
    names = sorted(sockets) + sorted(units)
    names += [f"{a} -> {b}" for a, b in zip(sorted(sockets), sorted(sockets, reverse=True))]
    assert len({slug(n) for n in names}) == len(set(names))
