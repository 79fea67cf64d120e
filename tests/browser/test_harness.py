"""The browser checks themselves: a good page passes, and each fault that they are for is found."""

from __future__ import annotations

from pathlib import Path

import pytest

from helpers import html_checker, links, sites
from helpers.inspector import Inspector

PAGE = """<!doctype html>
<html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1">
<title>Patch</title><link rel="stylesheet" href="style.css">{head}</head>
<body><header><a href="index.html">Front page of the show</a></header>
<main><h1 id="top">Patch of the whole rig</h1>
<p>Five words are not enough to prove anything.</p>
<div class="wide" role="region" tabindex="0" aria-label="Cables"><table><caption>Cables</caption>
<thead><tr><th scope="col">From</th><th scope="col">To</th></tr></thead>
<tbody><tr><td>box, socket 1, with a long label that needs some room</td><td>amplifier, input A</td></tr></tbody>
</table></div>
<svg viewBox="0 0 200 40" width="200" height="40" role="img" aria-label="A line"><text x="10" y="25">box</text></svg>
{main}</main></body></html>
"""
STYLE = """body { margin: 1rem; font: 1rem/1.5 sans-serif; color: #111; background: #fff }
.wide { overflow-x: auto } svg { display: block; max-width: 100% }
header a { display: inline-block; padding: .5rem 0; color: #003399 }
@media screen { td { min-width: 24rem } }
@media (prefers-color-scheme: dark) { body { color: #eee; background: #111 } header a { color: #9cf } }
"""
BAD = {
    "sticks out": ("<p style='width:500px'>wide, 500 px</p>", "360 px: the page is"),
    "sticks out, hidden by the body": (
        "<style>body{overflow-x:hidden}</style><p style='width:500px'>wide, 500 px</p>", "sticks out"),
    "cut off": ("<p style='width:50px;overflow:hidden;white-space:nowrap'>no end of it to be seen</p>", "is cut off"),
    "cut off on paper": (
        "<style>@media print{td{white-space:nowrap;min-width:900px}}</style>", "print: "),
    "drawing cut off": ("<svg viewBox='0 0 20 20' width='20' role='img' aria-label='x'><text x='9' y='9'>amplifier"
                        "</text></svg>", "drawing text"),
    "contrast in the light": ("<p style='color:#999'>pale grey words</p>", "axe, light, 360 px: color-contrast"),
    "contrast in the dark": (
        "<style>@media (prefers-color-scheme:dark){main p{color:#444}}</style>", "axe, dark: color-contrast"),
    "no name": ("<button></button>", "button-name"),
    "too small to tap": ("<button style='all:unset;width:9px;height:9px' aria-label='a'></button>"
                         "<button style='all:unset;width:9px;height:9px' aria-label='b'></button>", "target-size"),
    "script error": ("<script>nothing.there()</script>", "script error"),
    "console": ("<script>console.error('oh')</script>", "console: oh"),
    "request": ("<img src='http://192.0.2.1/a.png' alt='a map'>", "outside the folder"),
    "request by script": ("<script>fetch('http://192.0.2.1/').catch(() => {})</script>", "outside the folder"),
    "missing picture": ("<img src='gone.png' alt='a map'>", "could not load gone.png"),
    "needs scripts": ("<script>document.documentElement.className='js'</script>"
                      "<style>html:not(.js) main{display:none}</style>", "without scripts: no main"),
    "hides a heading": ("<script>document.documentElement.className='js'</script>"
                        "<style>html:not(.js) h2{display:none}</style><h2>Cables</h2>", "heading `Cables` is hidden"),
}


def site(folder: Path, main: str = "", head: str = "") -> Path:
    (folder / "style.css").write_text(STYLE, "utf-8")
    page = folder / "index.html"
    page.write_text(PAGE.format(main=main, head=head), "utf-8")
    return page


@pytest.mark.browser
def test_a_good_page_has_no_faults(tmp_path: Path, inspector: Inspector) -> None:
    assert inspector.inspect(tmp_path, site(tmp_path)) == []


@pytest.mark.browser
@pytest.mark.parametrize("case", BAD)
def test_a_fault_is_found(case: str, tmp_path: Path, inspector: Inspector) -> None:
    main, expected = BAD[case]
    found = inspector.inspect(tmp_path, site(tmp_path, main))
    assert any(expected in fault for fault in found), found


@pytest.mark.browser
def test_html_faults_are_found(tmp_path: Path) -> None:
    site(tmp_path, "<p><div>a block in a paragraph</div></p>")
    assert any("index.html" in fault and "p" in fault for fault in html_checker.faults([tmp_path]))
    site(tmp_path)
    assert html_checker.faults([tmp_path]) == []


@pytest.mark.parametrize(("markup", "expected"), [
    ("<a href='gone.html'>x</a>", "is not there"),
    ("<a href='index.html#gone'>x</a>", "has no such place"),
    ("<a href='#gone'>x</a>", "has no such place"),
    ("<label for='gone'>x</label>", "has no such place"),
    ("<a href='../up.html'>x</a>", "leaves the folder"),
    ("<a href='/index.html'>x</a>", "starts at the root"),
    ("<a href='sub/'>x</a>", "is a folder"),
    ("<script src='https://192.0.2.1/x.js'></script>", "leaves the folder"),
    ("<img alt='' src='//192.0.2.1/x.png'>", "leaves the folder"),
    ("<p style='background:url(gone.png)'>x</p>", "is not there"),
    ("<p id='top'>x</p>", "`top` is given 2 times"),
])
def test_dead_links_are_found(markup: str, expected: str, tmp_path: Path) -> None:
    (tmp_path / "sub").mkdir()
    site(tmp_path, markup)
    assert [f for f in links.faults(tmp_path) if expected in f], links.faults(tmp_path)


def test_good_links_are_let_be(tmp_path: Path) -> None:
    site(tmp_path, "<a href='#top'>x</a> <a href='index.html#top'>x</a> <a href='https://example.org/'>x</a>"
                   "<img alt='' src='data:image/gif;base64,R0lGODlhAQABAAAAACw='>")
    assert links.faults(tmp_path) == []


def test_a_site_is_built_once(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    made: list[Path] = []

    def build(_: sites.Site, out: Path) -> None:
        out.mkdir()
        made.append(out)

    monkeypatch.setattr(sites, "build", build)
    wanted = sites.Site(sites.ROOT / "shows" / "barn" / "show.yaml", "guest", "plain")
    assert sites.built(wanted, tmp_path) == sites.built(wanted, tmp_path) == tmp_path / "barn.show-guest-plain"
    assert len(made) == 1
