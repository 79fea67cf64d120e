"""Static files: those that a page of the view names, and those that these name; no others are carried about."""

from __future__ import annotations

from rigbook.handbook.make import make
from rigbook.handbook.statics import used
from rigbook.handbook.themes import find_theme

STATIC = {
    "static/a.css": b"@import 'b.css'; p { background: url(\"deep/leaf.svg\") }",
    "static/b.css": b"",
    "static/aa.css": b"",
    "static/deep/leaf.svg": b"<svg/>",
    "static/odd.js": b"",
}


def test_what_a_page_names_and_what_that_names() -> None:
    kept = used(STATIC, (b'<link rel="stylesheet" href="static/a.css">',))
    assert list(kept) == ["static/a.css", "static/b.css", "static/deep/leaf.svg"]


def test_a_longer_name_is_another_file() -> None:
    assert list(used(STATIC, (b'<link href="static/aa.css">',))) == ["static/aa.css"]
    assert used(STATIC, ()) == {}


def test_the_public_site_carries_no_script_of_the_walk_test(hall) -> None:
    theme = find_theme("plain")
    public, crew = make(hall, "public", theme), make(hall, "crew", theme)
    assert not [n for n in public if "walk-test" in n or "drawing" in n]
    assert {"static/walk-test.js", "static/walk-test.css"} <= set(crew)
    front = len(public["index.html"]) + sum(len(d) for n, d in public.items() if n.encode() in public["index.html"])
    assert front < 100_000, "the front page that the public loads, in bytes"
