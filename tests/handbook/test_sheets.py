"""Every sheet of a PDF: nothing too small to read, nothing torn, no heading alone at the foot, no empty sheet."""

from __future__ import annotations

import io
from importlib.util import find_spec
from pathlib import Path
from typing import Any

import pytest

from helpers import tools
from helpers.sites import shows
from rigbook.handbook.book import Book
from rigbook.handbook.contents import pages
from rigbook.handbook.make import make
from rigbook.handbook.paper import pdf
from rigbook.handbook.site import site_of
from rigbook.handbook.themes import find_theme
from rigbook.pipeline import compile_plan

LEAST = 6.95
"""Points; 7 pt is the least that is read at arm's length in bad light (common practice), less what rounding takes."""
FILLED = 0.05
"""How far down a sheet its text goes at least."""
SHOWS = [pytest.param(s, t, id=f"{s.stem}-{t}", marks=() if s.stem == "lessons-and-songs" and t == "plain" else
                      pytest.mark.slow) for s in shows() for t in ("plain", "binder", "dark-stage")]


@pytest.mark.parametrize(("show", "theme"), SHOWS)
def test_sheets_can_be_read_and_hold_together(show: Path, theme: str, subtests: pytest.Subtests) -> None:
    """Type by its size as printed; rows by the sheets that they stand on."""
    reason = pdf.lacking()
    if reason or not find_spec("pypdf"):
        tools.missing("WeasyPrint and pypdf", reason or "`pip install -e '.[test]'`")
    got, look = compile_plan(show), find_theme(theme)
    run = pdf._Press(make(got, "crew", look), site_of(book := Book.of(got, "crew"), pages(book)), look)
    for leaf in run.site.leaves:
        section = run.section(leaf)
        with subtests.test(page=leaf.slug):
            assert small(run._bytes([section])) == []
            assert torn(section.document.pages) == []
            assert [n for n, s in enumerate(section.document.pages, 1) if pdf.filled(s) < FILLED] == []
            assert [n for n, s in enumerate(section.document.pages, 1) if last(s) in ("h1", "h2", "h3", "h4")] == []


def small(data: bytes) -> list[tuple[int, float, str]]:
    """Sheets with type below the least: sheet, points, a text of it."""
    import pypdf

    found: dict[tuple[int, float], str] = {}
    for number, page in enumerate(pypdf.PdfReader(io.BytesIO(data)).pages, 1):

        def seen(text: str, cm: list[float], tm: list[float], font: object, size: float, sheet: int = number) -> None:
            scale = abs((cm[0] * cm[3] - cm[1] * cm[2]) * (tm[0] * tm[3] - tm[1] * tm[2])) ** 0.5  # turned type too
            if text.strip() and size * scale < LEAST:
                found.setdefault((sheet, round(size * scale, 2)), text.strip())

        page.extract_text(visitor_text=seen)
    return [(*key, text) for key, text in found.items()]


def torn(sheets: Any) -> list[str]:
    """Rows of tables that begin on one sheet and end on another."""
    where: dict[Any, set[int]] = {}
    for number, sheet in enumerate(sheets):
        for box in sheet._page_box.descendants():
            if box.element_tag == "tr":
                where.setdefault(box.element, set()).add(number)
    return ["".join(row.itertext()) for row, on in where.items() if len(on) > 1 and not heads(row)]


def heads(row: Any) -> bool:
    """Whether a row is the head of a table, which is said again on each sheet."""
    return all(cell.tag == "th" and cell.get("scope") == "col" for cell in row)


def last(sheet: Any) -> str:
    """What kind of thing stands lowest on a sheet."""
    from weasyprint.formatting_structure.boxes import ReplacedBox, TextBox

    body = sheet._page_box.children[0]
    seen = [b for b in body.descendants() if isinstance(b, TextBox | ReplacedBox)]
    return str(max(seen, key=lambda b: b.position_y).element_tag) if seen else ""
