"""A venue's logo, colours and words by a few lines of `theme.yaml`; a mistake is told with its place."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from helpers.tools import ROOT
from rigbook.handbook.make import make
from rigbook.handbook.themes import ThemeError, find_theme

SVG = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 8 8">{}</svg>'
PNG = b"\x89PNG\r\n\x1a\n"


@pytest.fixture
def look(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.chdir(tmp_path)

    def make_look(text: str, **files: bytes):
        folder = tmp_path / "look"
        folder.mkdir(exist_ok=True)
        (folder / "theme.yaml").write_text(text, "utf-8")
        for name, data in files.items():
            (folder / name.replace("_dot_", ".")).write_bytes(data)
        return find_theme("look")

    return make_look


def test_three_lines_are_a_theme(hall, look) -> None:
    theme = look('logo: ours.svg\naccent: {light: "#7a2e4d", dark: "#f0b3c8"}\n'
                 'words: {title: Sound team, footer: Ask us}\n',
                 ours_dot_svg=SVG.format('<path d="M0 0h8"/>').encode())
    files = make(hall, "crew", theme)
    assert files["static/brand-logo.svg"].startswith(b"<svg")
    style = files["static/brand.css"].decode()
    assert ":root { --accent: #7a2e4d; --link: #7a2e4d; --focus: #7a2e4d; }" in style
    assert "@media screen and (prefers-color-scheme: dark)" in style
    for name in (n for n in files if n.endswith(".html")):
        page = files[name].decode()
        assert '<img src="static/brand-logo.svg" alt="">' in page
        assert page.index("tokens.css") < page.index("brand.css") < page.index("handbook.css")
        assert "Sound team" in page
        assert "Ask us" in page


def test_without_them_nothing_is_added(hall) -> None:
    files = make(hall, "crew", find_theme("plain"))
    assert not [n for n in files if "brand" in n]
    assert b"brand" not in files["index.html"]


def test_a_theme_that_extends_one_keeps_its_logo_and_changes_its_words(look, tmp_path: Path) -> None:
    under = look("logo: ours.png\nwords: {title: One, footer: Two}\n", ours_dot_png=PNG + b"rest")
    assert under.brand.logo == "static/brand-logo.png"
    upper = tmp_path / "upper"
    upper.mkdir()
    (upper / "theme.yaml").write_text(f"extends: {tmp_path / 'look'}\nwords: {{footer: Three}}\n", "utf-8")
    theme = find_theme("upper/")
    assert theme.brand.logo == "static/brand-logo.png"
    assert dict(theme.brand.words) == {"title": "One", "footer": "Three"}


@pytest.mark.parametrize(("inside", "says"), [
    ("<script/>", "holds a `script` element"), ('<path onclick="x()"/>', "holds a program (`onclick`)"),
    ('<image href="other.png"/>', "asks for `other.png`"), ('<a href="#here"/>', ""),
    ("<style>@import 'x.css'</style>", "asks for another file"), ('<path fill="url(#a)"/>', ""),
    ('<path style="fill:url(more.svg#a)"/>', "asks for another file"), ("<foreignObject/>", "`foreignobject` element"),
    ('<a href="javascript:x()"/>', "asks for `javascript:x()`"), ("<path>", "cannot be read"),
])
def test_a_drawing_does_nothing_and_asks_for_nothing(look, inside: str, says: str) -> None:
    data = SVG.format(inside).encode()
    if not says:
        assert look("logo: ours.svg\n", ours_dot_svg=data).brand.logo
        return
    with pytest.raises(ThemeError, match=re.escape(says)) as caught:
        look("title: Ours\nlogo: ours.svg\n", ours_dot_svg=data)
    assert str(caught.value).startswith("look/theme.yaml:2:1: ")


@pytest.mark.parametrize(("text", "says"), [
    ("logo: ../plan.svg\n", "lies outside of the theme's folder"), ("logo: our.svg\n", "did you mean `ours.svg`?"),
    ("logo: ours.gif\n", "neither an SVG drawing nor a PNG picture"), ("logo: big.png\n", "200 kB are allowed"),
    ("logo: false.png\n", "neither an SVG drawing nor a PNG picture"),
    ("logo: entity.svg\n", "declares a document type"),
    ("words: {foot: x}\n", "there is no word `foot`; there are `footer`, `title`"),
    ("words: [x]\n", "`words` holds `key: value` lines"),
    ("colours: {lnik: \"#fff\"}\n", "there is no token `lnik`; did you mean `link`?"),
    ("accent: {light: 5; }\n", "is no colour"), ("logos: ours.svg\n", "there is no key `logos`; did you mean `logo`?"),
])
def test_a_mistake_is_told(look, text: str, says: str) -> None:
    with pytest.raises(ThemeError, match=re.escape(says)):
        look(text, ours_dot_svg=SVG.format("").encode(), ours_dot_gif=b"GIF89a", big_dot_png=PNG + b"x" * 300_000,
             false_dot_png=b"GIF89a", entity_dot_svg=b'<!DOCTYPE svg [<!ENTITY a "b">]>' + SVG.format("&a;").encode())


def test_the_chapel_s_look(hall) -> None:
    theme = find_theme(str(ROOT / "shows" / "chapel" / "look"))
    assert (theme.layers[0][1] / "theme.yaml").read_text("utf-8").count("\n") <= 4
    assert make(hall, "public", theme)["static/brand-logo.svg"]
