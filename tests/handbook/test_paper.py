"""`handbook/paper`: bind, ink, pdf. The handbook as PDF: read back with another library."""

from __future__ import annotations

import io
import re
from importlib.util import find_spec
from itertools import pairwise
from pathlib import Path
from types import SimpleNamespace as Ns

import pytest

from helpers import tools
from helpers.sites import shows
from rigbook.checks.compiled import Compiled
from rigbook.cli import main
from rigbook.handbook.book import Book
from rigbook.handbook.contents import pages
from rigbook.handbook.make import make
from rigbook.handbook.paper import bind, ink, parts, pdf
from rigbook.handbook.site import Leaf, site_of
from rigbook.handbook.themes import find_theme
from rigbook.handbook.tongues import tongue
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
    leaves = [Leaf(slug, title, f"{slug}.html", "", n) for n, (slug, title) in enumerate([("index", "One"),
                                                                                        ("two", "Two")], 1)]
    bound = bind.bind(bind.parse(PAGE.replace(b"<html", b'<html dir="ltr"')), leaves[0], leaves, "Both")
    assert (bound.get("lang"), bound.get("dir"), bound.findtext("head/title")) == ("en", "ltr", "Both")
    assert (bound[1].get("id"), bound[1].get("class")) == ("index", "on-index"), "style sheets know the page by it"
    links = bound.findall(".//p/a")
    assert [a.get("href") for a in links] == ["#two.x", "#index.top", None, "mailto:a@example.org"]
    assert [a.get("data-sheet") for a in links] == ["2", None, None, None], "the number that is printed beside it"
    assert ["".join(a.itertext()) for a in bound.iter("a") if a.get("href") == "#two"] == ["2 Two"], "the contents"
    ids = [e.get("id") for e in bound.iter() if e.get("id")]
    assert len(ids) == len(set(ids))
    assert not [e for e in bound.iter() if e.tag in ("script", "button")]
    text = " ".join("".join(bound.itertext()).split())
    assert "Text after there" in text
    assert "Menu" not in text
    assert [s.findtext(bind.SVG + "title") for s in bound.iter(bind.SVG + "svg")] == ["What is drawn"]
    second = bind.bind(bind.parse(PAGE), leaves[1], leaves, "Both")
    assert not [e for e in second.iter() if e.get("class") == "sheets"], "the contents stand on the first page alone"


def test_drawings_are_painted_as_the_style_sheets_say() -> None:
    pytest.importorskip("tinyhtml5")
    root = bind.parse(PAGE)
    ink.ink(root, list(ink.printed("""
        :root { --loud: var(--red); --red: #c00 }
        .drawing text { fill: blue; stroke-width: 2; margin: 3px }
        @media screen { .loud { fill: green } } @media print { main .loud { fill: var(--loud) } }
        :popover-open { fill: black }""")))
    (word,) = root.iter(bind.SVG + "text")
    assert dict(d.split(":") for d in word.get("style").split(";")) == {"fill": "#c00", "stroke-width": "2"}


def test_a_handbook_as_pdf(compiled, press: None) -> None:
    import pypdf

    got = compiled()
    first = make(got, "guest", find_theme("plain"), with_pdf=True)
    assert first == make(got, "guest", find_theme("plain"), with_pdf=True), "not the same bytes twice"
    assert {n for n in first if n.endswith(".pdf")} == {
        "trial-error-guest.pdf", "trial-error-guest-ten-minutes.pdf", "trial-error-guest-fault-patterns.pdf"}
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
    assert len(tops) == len(site.leaves)
    assert [t.title for t in tops][1:] == [leaf.title for leaf in site.leaves][1:]
    starts = [read.get_destination_page_number(t) for t in tops]
    assert starts == sorted(starts)
    assert any(isinstance(o, list) for o in read.outline), "parts of the pages are bookmarks too"
    texts = [p.extract_text() for p in read.pages]
    feet = [f"{n} · {sheet} / {end - start}" for n, (start, end) in enumerate(pairwise([*starts, len(texts)]), 1)
            for sheet in range(1, end - start + 1)]
    assert [foot for foot, text in zip(feet, texts, strict=True) if foot not in " ".join(text.split())] == []
    assert read.page_labels == [re.sub(r" · (\d+) / \d+", r"-\1", foot) for foot in feet]
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


SMALL = 6.95
"""Points; what is meant to be 7 is a multiple of another size."""
ISO_ANSI = {"a4": (595, 842), "letter": (612, 792)}
"""Sheets in points: ISO 216, ANSI/ASME Y14.1."""


def pressed(got: Compiled, theme: str = "plain", language: str = "en", paper: str = "a4") -> pdf._Press:
    """A built show, ready to be laid out."""
    look = find_theme(theme)
    book = Book.of(got, "crew", tongue(language))
    return pdf._Press(make(got, "crew", look, language), site_of(book, pages(book)), look, paper)


LOOKS = [("plain", "en"), *(pytest.param(t, x, marks=pytest.mark.slow) for t in ("plain", "binder", "dark-stage")
                            for x in ("en", "de", "fr") if (t, x) != ("plain", "en"))]


@pytest.mark.parametrize(("theme", "language"), LOOKS)
@pytest.mark.parametrize("show", shows(), ids=lambda p: p.stem)
def test_ten_minutes_are_one_sheet_of_every_show(show: Path, theme: str, language: str, press: None) -> None:
    """On either size, with nothing below 7 pt, which is read at arm's length in bad light (common practice)."""
    import pypdf

    got = compile_plan(show)
    run = pressed(got, theme, language)
    leaf = next(leaf for leaf in run.site.leaves if leaf.slug == pdf.SHEET)
    for run.paper, size in ISO_ANSI.items():
        read = pypdf.PdfReader(io.BytesIO(run._bytes([run.section(leaf)])))
        assert len(read.pages) == 1, run.paper
        text = read.pages[0].extract_text()
        for bus in got.plan.buses.values():
            assert bus.name in text.replace("\n", "")
        assert tuple(round(float(x)) for x in read.pages[0].mediabox[2:]) == size
        assert [few for few in sizes(read.pages[0]).items() if few[0] < SMALL] == []


def sizes(page: object) -> dict[float, str]:
    """Sizes of type on a sheet, in points, and a text of each."""
    found: dict[float, str] = {}

    def seen(text: str, cm: list[float], tm: list[float], font: object, size: float) -> None:
        if text.strip():
            found.setdefault(round(abs(size * tm[3] * cm[3]), 2), text.strip())

    page.extract_text(visitor_text=seen)
    return found


def test_a_rig_too_large_for_one_sheet_goes_on_to_a_second(compiled, press: None) -> None:
    """Rather than in type that nobody can read."""
    import pypdf

    many = "".join(f"  top-{n}: {{kind: powered-top-12, at: 1 m left 1 m out}}\n" for n in range(100))
    got = compiled(f"plan: 1\nshow: Many\nunits:\n  desk: desk-16\n{many}")
    run = pressed(got)
    leaf = next(leaf for leaf in run.site.leaves if leaf.slug == pdf.SHEET)
    read = pypdf.PdfReader(io.BytesIO(run._bytes([run.section(leaf)])))
    text = "".join(page.extract_text() for page in read.pages)
    assert len(read.pages) > 1
    assert all(f"top-{n}" in text for n in range(100))


def test_letter_is_letter_throughout(compiled, press: None) -> None:
    """Upright or across, all that is no stock of its own."""
    import pypdf

    files = make(compiled(STOCK.replace("SAID", "{}")), "crew", find_theme("plain"), with_pdf=True, paper="letter")
    for name, wanted in (("stock-crew.pdf", {(612, 792), (792, 612)}), ("stock-crew-labels.pdf", {(595, 842)})):
        read = pypdf.PdfReader(io.BytesIO(files[name]))
        assert {tuple(round(float(x)) for x in page.mediabox[2:]) for page in read.pages} <= wanted


@pytest.mark.parametrize(("filled", "sheets"), [([1, 1, 0.05], 2), ([1, 1, 0.2], 3), ([1] * 5 + [0.2], 5), ([0.05], 1)])
def test_a_nearly_empty_last_sheet_is_spared(filled: list[float], sheets: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """Setting it closer saves 6 % of each sheet before: the last goes where that is enough, else it stays as it is."""
    def laid(_run: pdf._Press, _leaf: Leaf, _page: object, more: str = "") -> Ns:
        many = filled[:-1] if more else filled
        text = [Ns(descendants=lambda part=part: [Ns(position_y=0, height=800 * part)]) for part in many]
        return Ns(pages=[Ns(_page_box=Ns(height=800, content_box_y=lambda: 0, children=[t])) for t in text])

    monkeypatch.setattr(pdf._Press, "_document", laid)
    leaf = Leaf("venue", "Venue", "venue.html", "", 1)
    run = pdf._Press({"venue.html": PAGE}, Ns(leaves=[leaf]), find_theme("plain"))
    assert len(run.section(leaf).document.pages) == sheets


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


STOCK = """plan: 1
show: Stock
units: {desk: desk-16, box: stage-box-16, top: powered-top-12}
inputs: {7: {name: Whistle, from: box/in 3, mic: dynamic-vocal, to: main}}
buses: {main: {}}
outputs: {main: box/out 2}
wiring: {network: [desk/net A -> box/net A], xlr: [box/out 2 -> top/in]}
labels: {SAID}
"""


def places(page: object) -> dict[str, list[tuple[float, float]]]:
    """Where words of a sheet begin, in mm from its top left corner."""
    found: dict[str, list[tuple[float, float]]] = {}
    height = float(page.mediabox[3])

    def seen(text: str, cm: list[float], tm: list[float], font: object, size: float) -> None:
        x, y = tm[4] * cm[0] + tm[5] * cm[2] + cm[4], tm[4] * cm[1] + tm[5] * cm[3] + cm[5]
        if text.strip():
            found.setdefault(text.strip(), []).append((x * 25.4 / 72, (height - y) * 25.4 / 72))

    page.extract_text(visitor_text=seen)
    return found


@pytest.mark.parametrize(("said", "sheet", "step", "columns"), [
    ("size: 70 x 37 mm", (210, 297), (70, 37), 3),
    ("size: 63.5 x 38.1 mm, columns: 3, rows: 7, gap: 2.5 x 0 mm, margin: 7.2 x 15.1 mm", (210, 297), (66, 38.1), 3),
    ("sheet: letter, size: 66.7 x 25.4 mm, gap: 3 x 0 mm", (215.9, 279.4), (69.7, 25.4), 3),
])
def test_labels_are_as_large_as_they_say(
    compiled, press: None, said: str, sheet: tuple[float, float], step: tuple[float, float], columns: int
) -> None:
    """Label stock is cut to the millimetre: sheets measure what the plan says, and so does the way between labels."""
    import pypdf

    files = make(compiled(STOCK.replace("SAID", said)), "crew", find_theme("plain"), with_pdf=True)
    read = pypdf.PdfReader(io.BytesIO(files["stock-crew-labels.pdf"]))
    book = Book.of(compiled(STOCK.replace("SAID", said)), "crew")
    facts = next(p for p in pages(book) if p.slug == "labels").data
    assert len(read.pages) == len(facts.sheets)
    for page, labels in zip(read.pages, facts.sheets, strict=True):
        assert [float(x) * 25.4 / 72 for x in page.mediabox[2:]] == pytest.approx(sheet, abs=0.05)
        at = places(page)
        heads = [(n, label.head) for n, label in enumerate(labels) if label]
        assert heads
        for number, head in heads:
            x, y = number % columns * step[0], number // columns * step[1]
            near = [(px, py) for px, py in at[head] if x <= px - facts.stock.left <= x + step[0]
                    and y <= py - facts.stock.top <= y + step[1]]
            assert near, f"{head} stands on another label"
        by = [at[head] for _, head in heads]
        flat = sorted({round(x, 1) for xy in by for x, _ in xy})
        assert [b - a for a, b in pairwise(flat)] == pytest.approx([step[0]] * (len(flat) - 1), abs=0.15)


def test_strips_have_the_pitch_that_they_say(compiled, press: None) -> None:
    import pypdf

    files = make(compiled(STOCK.replace("SAID", "pitch: 21 mm")), "crew", find_theme("plain"), with_pdf=True)
    read = pypdf.PdfReader(io.BytesIO(files["stock-crew-strips.pdf"]))
    at = places(read.pages[0])
    numbers = sorted(min(at[str(n)]) for n in range(1, 9))
    assert [b[0] - a[0] for a, b in pairwise(numbers)] == pytest.approx([21] * 7, abs=0.15)


def test_what_is_printed_by_itself_is_not_in_the_book() -> None:
    pytest.importorskip("tinyhtml5")
    page = bind.parse(b"""<html><body class="on-labels"><header class="title-block">Block</header><main><h1>Labels</h1>
<p>Scheme</p><div class="printables"><section class="part part-sheets">Sheets</section>
<section class="part part-cards">Cards</section></div></main></body></html>""")
    said = {apart.name: "".join(parts.part(page, apart).itertext()).split() for apart in parts.APART[:2]}
    assert said == {"labels": ["Sheets"], "strips": ["Cards"]}
    assert " ".join(parts.without(page).itertext()).split() == ["Block", "Labels", "Scheme"]
    assert parts.part(page, parts.APART[2]) is None
