"""`handbook/paper`: bind, ink, pdf. The handbook as PDF: read back with another library."""

from __future__ import annotations

import io
from importlib.util import find_spec
from pathlib import Path

import pytest

from helpers import tools
from helpers.sites import shows
from rigbook.cli import main
from rigbook.handbook.book import Book
from rigbook.handbook.contents import pages
from rigbook.handbook.make import make
from rigbook.handbook.paper import bind, ink, pdf
from rigbook.handbook.site import site_of
from rigbook.handbook.themes import find_theme
from rigbook.pipeline import compile_plan

PAGE = b"""<!doctype html><html lang="en"><head><title>t</title><link rel="stylesheet" href="static/a.css"></head><body>
<header class="title-block">Block</header><nav>Menu</nav><main><h1 id="top">One</h1><script>evil()</script>
<p>Text <button>Press</button>after <a id="l" href="two.html#x">there</a>, <a href="#top">here</a>,
<a href="data.json">data</a>, <a href="mailto:a@example.org">mail</a></p>
<svg class="drawing" aria-labelledby="cap"><g><text class="loud">word</text></g></svg><p id="cap">What is drawn</p>
</main></body></html>"""


@pytest.fixture
def press() -> None:
    """WeasyPrint and what it stands on, or the end of the test."""
    reason = pdf.lacking()
    if reason or not find_spec("pypdf"):
        tools.missing("WeasyPrint and pypdf", reason or "`pip install -e '.[test]'`")


def test_pages_are_bound_with_their_links_inside() -> None:
    pytest.importorskip("tinyhtml5")
    parsed = {"index": bind.parse(PAGE), "two": bind.parse(PAGE.replace(b"One", b"Two"))}
    bound = bind.bind(parsed, parsed, ("de", "ltr"), "Both")
    assert (bound.get("lang"), bound.findtext("head/title")) == ("de", "Both")
    links = [a.get("href") for a in bound.findall("body/section[1]//p/a")]
    assert links == ["#two.x", "#index.top", None, "mailto:a@example.org"]
    assert [a.text for a in bound.iter("a") if a.get("href") == "#two"] == ["Two"], "the contents"
    ids = [e.get("id") for e in bound.iter() if e.get("id")]
    assert len(ids) == len(set(ids))
    assert not [e for e in bound.iter() if e.tag in ("script", "button")]
    text = " ".join("".join(bound.itertext()).split())
    assert "Text after there" in text
    assert "Menu" not in text
    assert [s.findtext(bind.SVG + "title") for s in bound.iter(bind.SVG + "svg")] == ["What is drawn"] * 2


def test_drawings_are_painted_as_the_style_sheets_say() -> None:
    pytest.importorskip("tinyhtml5")
    root = bind.parse(PAGE)
    ink.ink(root, ["""
        :root { --loud: var(--red); --red: #c00 }
        .drawing text { fill: blue; stroke-width: 2; margin: 3px }
        @media screen { .loud { fill: green } } @media print { main .loud { fill: var(--loud) } }
        :popover-open { fill: black }"""])
    (word,) = root.iter(bind.SVG + "text")
    assert dict(d.split(":") for d in word.get("style").split(";")) == {"fill": "#c00", "stroke-width": "2"}


def test_a_handbook_as_pdf(compiled, press: None) -> None:
    import pypdf

    got = compiled()
    first = make(got, "guest", find_theme("plain"), with_pdf=True)
    assert first == make(got, "guest", find_theme("plain"), with_pdf=True), "not the same bytes twice"
    assert {n for n in first if n.endswith(".pdf")} == {
        "trial-error-guest.pdf", "trial-error-guest-ten-minutes.pdf"}
    read = pypdf.PdfReader(io.BytesIO(first["trial-error-guest.pdf"]))
    catalogue = read.trailer["/Root"]
    assert catalogue["/Lang"] == "en"
    assert catalogue["/MarkInfo"]["/Marked"]
    assert catalogue["/ViewerPreferences"]["/DisplayDocTitle"]
    assert "/StructTreeRoot" in catalogue
    assert b"pdfuaid" in catalogue["/Metadata"].get_data()
    assert read.metadata.title == "Trial & <error> – Handbook for visiting engineers"
    assert read.metadata.creation_date is None, "a date would be another one tomorrow"
    site = site_of(Book.of(got, "guest"), pages(Book.of(got, "guest")))
    tops = [o for o in read.outline if not isinstance(o, list)]
    assert "labels" in pdf.APART
    assert len(tops) == len(site.leaves)
    assert [t.title for t in tops][1:] == [leaf.title for leaf in site.leaves][1:]
    starts = [read.get_destination_page_number(t) for t in tops]
    assert starts == sorted(starts)
    assert any(isinstance(o, list) for o in read.outline), "parts of the pages are bookmarks too"
    texts = [p.extract_text() for p in read.pages]
    for number, text in enumerate(texts, 1):
        assert f"{number} / {len(texts)}" in text
    assert "amp-tops" not in "".join(texts)
    assert "amp/in A" in "".join(texts)
    for page in read.pages:
        for note in page.get("/Annots") or ():
            action = note.get_object().get("/A") or {}
            assert str(action.get("/URI", "mailto:")).startswith(("mailto:", "tel:")), "leads out of the document"


def test_the_public_pdf_holds_what_the_public_site_holds(compiled, press: None) -> None:
    import pypdf

    files = make(compiled(), "public", find_theme("plain"), with_pdf=True)
    (name,) = (n for n in files if n.endswith(".pdf"))
    assert name == "trial-error-public.pdf"
    text = "".join(p.extract_text() for p in pypdf.PdfReader(io.BytesIO(files[name])).pages)
    assert "KEEP-4711" not in text
    assert "wedge" not in text


@pytest.mark.parametrize("show", shows(), ids=lambda p: p.stem)
def test_ten_minutes_are_one_sheet_of_every_show(show: Path, press: None) -> None:
    import pypdf

    got, theme = compile_plan(show), find_theme("plain")
    book = Book.of(got, "crew")
    run = pdf._Press(make(got, "crew", theme), site_of(book, pages(book)), theme)
    found = run._one_sheet()
    read = pypdf.PdfReader(io.BytesIO(run._bytes(found[1])))
    assert len(read.pages) == 1
    text = read.pages[0].extract_text()
    for bus in book.plan.buses.values():
        assert bus.name in text.replace("\n", "")
    assert [round(float(x)) for x in read.pages[0].mediabox[2:]] == [595, 842], "A4 in points, ISO 216"


def test_a_sheet_that_cannot_be_one_is_told(compiled, press: None, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(pdf, "SIZES", (60.0,))
    with pytest.raises(pdf.PaperError, match=r"sheets even in type of 60\.0 pt"):
        make(compiled(), "crew", find_theme("plain"), with_pdf=True)


def test_without_weasyprint_the_old_handbook_stays(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], compiled
) -> None:
    compiled()
    plan, out = str(tmp_path / "plan.yaml"), tmp_path / "site"
    assert main(["build", plan, "--out", str(out), "--fail-on", "error"]) in (0, 1)
    before = {p: p.read_bytes() for p in out.rglob("*") if p.is_file()}
    capsys.readouterr()
    monkeypatch.setattr(pdf, "find_spec", lambda name: None)
    assert main(["build", plan, "--out", str(out), "--pdf"]) == 2
    assert "pip install 'rigbook[pdf]'" in capsys.readouterr().err
    assert {p: p.read_bytes() for p in out.rglob("*") if p.is_file()} == before


def test_a_page_keeps_its_own_style_sheet_to_itself() -> None:
    pytest.importorskip("tinycss2")
    own = bind.scoped(".bar, a:is(.x, .y) > b { color: red } @media print { .bar { display: none } }"
                      "@page { margin: 1cm }"
                      ":root { --a: 1 }", ["walk-test", "stage"])
    where = ":where(.on-walk-test, .on-stage)"
    assert f"{where} .bar, {where} a:is(.x, .y) > b {{ color: red }}" in own
    assert f"@media print {{{where} .bar {{ display: none }}}}" in own
    assert "@page { margin: 1cm }" in own
    assert "\n:root { --a: 1 }" in own
