"""Themes: search order, overriding one file, mistakes told with their place; README.md names what there is."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from helpers import links
from helpers.tools import ROOT
from rigbook.handbook.make import make
from rigbook.handbook.render import code, css_text
from rigbook.handbook.themes import ThemeError, find_theme, shipped, themes_root
from rigbook.handbook.write import write
from rigbook.records import fields

README = (ROOT / "themes" / "README.md").read_text("utf-8")


def theme(folder: Path, **files: str) -> Path:
    for name, text in files.items():
        path = folder / name.replace("__", "/").replace("_dot_", ".")
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, "utf-8")
    return folder


@pytest.mark.parametrize("view", ["crew", "guest", "public"])
@pytest.mark.parametrize("name", shipped())
def test_every_page_in_every_theme_and_view(hall, tmp_path: Path, name: str, view: str) -> None:
    files = make(hall, view, find_theme(name))
    assert files == make(hall, view, find_theme(name)), "not the same bytes twice"
    write(files, tmp_path / "site")
    assert links.faults(tmp_path / "site") == []
    for page in (f for f in files if f.endswith(".html")):
        text = files[page].decode()
        assert b"\r" not in files[page]
        assert str(ROOT) not in text
        assert re.findall(r"<h1", text) == ["<h1"], page
        assert not re.search(r"\bsafe(ly)?\b", re.sub(r"<[^>]*>", " ", text), re.I), page


def test_the_shipped_themes_stand_at_the_repository_root() -> None:
    assert themes_root() == ROOT / "themes"
    assert {"plain", "dark-stage", "binder"} <= set(shipped())


def test_dark_stage_overrides_one_file() -> None:
    plain, dark = find_theme("plain").static(), find_theme("dark-stage").static()
    assert plain.keys() == dark.keys()
    assert [n for n in plain if plain[n] != dark[n]] == ["static/tokens.css"]


def test_a_folder_of_ones_own_overrides_one_template(hall, tmp_path: Path) -> None:
    own = theme(tmp_path, templates__patch_dot_html=(
        '{% extends "plain/patch.html" %}{% block heading %}<h1>Ours {{ site.title }}</h1>{% endblock %}'))
    files, plain = make(hall, "crew", find_theme(str(own))), make(hall, "crew", find_theme("plain"))
    assert b"<h1>Ours Winter reel night</h1>" in files["patch.html"]
    assert b'id="cables"' in files["patch.html"]
    assert [n for n in plain if files[n] != plain[n]] == ["patch.html", "worker.js"], "the worker names the build"


def test_settings_fall_back_to_the_extended_theme(tmp_path: Path) -> None:
    own = theme(tmp_path, theme_dot_yaml="extends: dark-stage\nsettings: {colour: red}\n")
    got = find_theme(str(own))
    assert got.settings == {"mode": "dark", "colour": "red", "styles": [], "expanded": False}
    assert [name for name, _ in got.layers][1:] == ["dark-stage", "plain"]


@pytest.mark.parametrize(("body", "line", "says"), [
    ("{% block main %}\n{{ page.titel }}\n{% endblock %}", 3, "titel"),
    ("{% block main %}\n{% if %}\n{% endblock %}", 3, "Expected an expression"),
    ("{% block main %}\n{{ 1 // 0 }}\n{% endblock %}", 3, "division"),
])
def test_a_mistake_in_a_template_is_told_with_its_place(hall, tmp_path: Path, body: str, line: int, says: str) -> None:
    own = theme(tmp_path, templates__front_dot_html='{% extends "base.html" %}\n' + body)
    with pytest.raises(ThemeError) as caught:
        make(hall, "crew", find_theme(str(own)))
    assert f"front.html:{line}: " in str(caught.value)
    assert says in str(caught.value)


def test_a_missing_template_is_named(hall, tmp_path: Path) -> None:
    own = theme(tmp_path, templates__front_dot_html='{% extends "nothing.html" %}')
    with pytest.raises(ThemeError, match=r"has no template `nothing\.html`"):
        make(hall, "crew", find_theme(str(own)))


@pytest.mark.parametrize(("text", "says"), [
    ("extends: nowhere", "there is no theme `nowhere`"), ("[1, 2]", "no `key: value` lines"),
    ("a: [", "cannot be read")])
def test_a_mistake_in_theme_yaml_is_told(tmp_path: Path, text: str, says: str) -> None:
    own = theme(tmp_path, theme_dot_yaml=text)
    with pytest.raises(ThemeError, match=re.escape(says)):
        find_theme(str(own))


def test_a_ring_of_themes_is_told(tmp_path: Path) -> None:
    own = theme(tmp_path, theme_dot_yaml=f"extends: {tmp_path}\n")
    with pytest.raises(ThemeError, match="extends itself"):
        find_theme(str(own))


def test_an_unknown_theme_lists_those_there_are() -> None:
    with pytest.raises(ThemeError, match="`binder`, `dark-stage`, `plain`"):
        find_theme("drak-stage")


def test_the_readme_names_every_template_block_and_file() -> None:
    plain = ROOT / "themes" / "plain"
    templates = {p.relative_to(plain / "templates").as_posix() for p in (plain / "templates").rglob("*.html")}
    assert set(re.findall(r"^\| `([\w/-]+\.html)` \|", README, re.M)) == templates
    base = (plain / "templates" / "base.html").read_text("utf-8")
    listed = re.search(r"Blocks of `base.html`: (.*)\.", README)
    assert listed is not None
    assert re.findall(r"`(\w+)`", listed[1]) == re.findall(r"block (\w+)", base)
    static = {p.name for p in (plain / "static").iterdir() if not p.name.startswith("walk-test")}
    assert set(re.findall(r"^\| `([\w.-]+\.(?:css|js))` \|", README, re.M)) == static


def test_the_readme_names_what_a_template_is_given(hall) -> None:
    from rigbook.handbook.site import Site

    row = next(line for line in README.splitlines() if line.startswith("| `site` |"))
    assert set(re.findall(r"`(\w+)`", row)) - {"site"} == set(fields(Site))


def test_texts_in_style_sheets_and_sentences_are_escaped() -> None:
    assert css_text('a"}</style>') == r"a\22 \7d \3c \2f style\3e "
    assert code("no `<b>` here & there") == "no <code>&lt;b&gt;</code> here &amp; there"
    assert code("an odd ` tick <") == "an odd ` tick &lt;"


@pytest.mark.parametrize("name", ["", "x" * 300, "x/" * 3000, "a\0b", "\ud800", "/dev/null", "/"])
def test_names_that_are_no_theme(name: str) -> None:
    with pytest.raises(ThemeError, match="there is no theme"):
        find_theme(name)


SETTINGS = ("[" * 5000, "a: &a [*a]", "title: !!python/object:x.y {}", "\0", "- a", "settings: 1")


@pytest.mark.parametrize("text", SETTINGS)
def test_settings_that_cannot_be_read(text: str, tmp_path: Path) -> None:
    (tmp_path / "theme.yaml").write_text(text, "utf-8")
    with pytest.raises(ThemeError):
        find_theme(str(tmp_path))


@pytest.mark.parametrize("sort", ["link", "large"])
def test_no_file_from_elsewhere_and_none_that_is_huge(sort: str, tmp_path: Path) -> None:
    static = tmp_path / "theme" / "static"
    static.mkdir(parents=True)
    (tmp_path / "secret.txt").write_text("secret")
    if sort == "link":
        (static / "a.txt").symlink_to(tmp_path / "secret.txt")
    else:
        with (static / "a.txt").open("wb") as file:
            file.truncate(5_000_000_000)
    with pytest.raises(ThemeError, match=r"a\.txt"):
        find_theme(str(static.parent)).static()


@pytest.mark.parametrize("name", ["patch.html", "parts/more.html", "parts"])
def test_a_template_is_no_way_out_of_the_theme(hall, tmp_path: Path, name: str) -> None:
    secret = theme(tmp_path / "elsewhere", patch_dot_html="secret", more_dot_html="secret")
    own = theme(tmp_path / "own", templates__venue_dot_html='{% extends "plain/venue.html" %}')
    link = own / "templates" / name
    link.parent.mkdir(exist_ok=True)
    link.symlink_to(secret / link.name if link.suffix else secret)
    with pytest.raises(ThemeError, match="leads out of the theme"):
        make(hall, "crew", find_theme(str(own)))
    link.unlink()
    link.parent.mkdir(exist_ok=True)
    (own / "templates" / "venue-too.html").symlink_to(own / "templates" / "venue.html")
    assert make(hall, "crew", find_theme(str(own)))
