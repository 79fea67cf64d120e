"""Every number on every page of every show comes from somewhere: from the file of results, from what the plan and its
kinds of equipment say, or from how the page itself is built.

Where this fails, a page says a number that nothing computed. Put the figure into the file of results
(`compute/data.py`, described in `compiler/docs/data.md`), or take the number from where it is known.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest

from helpers.page_numbers import CITED, Corpus, Mark, missing, off_scale, read, tokens
from helpers.tools import ROOT
from rigbook.graph.codes import ALPHABET, LETTERS, codes
from rigbook.handbook import data_file
from rigbook.handbook.book import Book
from rigbook.handbook.make import make
from rigbook.handbook.themes import find_theme
from rigbook.language.record import Record
from rigbook.pipeline import Compiled, compile_plan
from rigbook.plan.model import Plan
from rigbook.walk.line_check import line_check
from rigbook.walk.steps import steps

SHOWS = sorted((ROOT / "shows").glob("*/*.yaml"))
GEAR = {p.stem: p for p in (ROOT / "compiler" / "rigbook" / "gear").rglob("*.yaml")}
DOC = (ROOT / "compiler" / "docs" / "data.md").read_text("utf-8")
UNITS = dict(re.findall(r"^\| `([^`]+)` \| (?:number|whole), ([^ |]+)", DOC, re.M))
"""Units of the plain numbers of the file, by their path."""
NAMED = ("mic", "di", "line", "stand", "transmitter", "joiner", "adaptor")
"""Keys of a plan whose value is the name of a kind."""


@cache
def compiled(path: Path) -> Compiled:
    return compile_plan(path)


def results(book: Book) -> Corpus:
    """The file of results."""
    corpus = Corpus()
    corpus.document(json.loads(data_file.data_file(book)), UNITS)
    return corpus


def typed(got: Compiled) -> Corpus:
    """What the plan's files and its kinds of equipment say, and the names that follow from them."""
    assert got.plan is not None
    corpus = Corpus()
    for source in got.sources.values():
        corpus.text(*source.lines)
    for kind in sorted(kinds(got.plan)):
        if kind in GEAR:
            corpus.text(*GEAR[kind].read_text("utf-8").splitlines())
    for unit in got.plan.units.values():
        corpus.text(*(unit.kind.ports if unit.kind else ()))
    for cable in got.plan.cables:
        corpus.text(cable.sheath, cable.start.id, cable.end.id)
    corpus.text(*codes(got.plan).values(), *LETTERS, ALPHABET)
    dates = [got.plan.get("date"), *(r.get("date") for r in got.plan.sections.get("walk-tests", ()))]
    corpus.text(*(f"{d.day} {d.month} {d.year}" for d in dates if d))
    return corpus


def kinds(plan: Plan) -> Iterator[str]:
    """Names of all kinds that a plan uses."""
    yield from (u.kind.name for u in plan.units.values() if u.kind)
    yield from (r.kind.name for r in plan.racks.values() if r.kind)
    yield from (c.kind.name for c in plan.cables if c.kind)
    radio = plan.sections.get("radio")
    records = [*(u.record for u in plan.units.values()), *(c.record for c in plan.channels)]
    records += [e.value for e in (radio.get("channels", ()) if isinstance(radio, Record) else ())]
    yield from (str(r.get(key)) for r in records for key in NAMED if r.get(key))
    yield from (c.adaptor for c in plan.cables if c.adaptor)
    yield "xlr"


def built(got: Compiled, files: dict[str, bytes], page: str) -> Corpus:
    """Numbers that a page has by being built: sheets, headings in order, rack units, rows of a list."""
    assert got.plan is not None
    assert got.rig is not None
    html = files[page].decode()
    sheets = sum(name.endswith(".html") for name in files)
    racks = [int(h.value) for r in got.plan.racks.values() if r.kind and (h := r.kind.get("height"))]
    corpus = Corpus()
    corpus.number(html.count('class="label-cell"'))
    walk = steps(got.rig), line_check(got.rig)
    corpus.number(sum(map(len, walk)))
    corpus.number(len(walk[1]))
    ordinals = html.count('class="num"')
    rows = max((table.count("<tr") for table in re.findall(r"<tbody>.*?</tbody>", html, re.S)), default=0)
    lines = max((len(source.lines) for source in got.sources.values()), default=0) if page == "checks.html" else 0
    for highest in (sheets, html.count("<h2"), *racks, rows, lines, ordinals):
        for number in range(highest + 1):
            corpus.number(number)
    return corpus


@cache
def corpora(path: Path) -> tuple[Corpus, ...]:
    """Where the numbers of a show may come from."""
    got = compiled(path)
    return results(Book.of(got, "crew")), typed(got)


def cases() -> Iterator[object]:
    """The crew's pages of every show; the other views hold less of the same, and are looked at in the slow run."""
    for path in SHOWS:
        for view in ("crew", "guest", "public"):
            marks = () if view == "crew" else (pytest.mark.slow,)
            yield pytest.param(path, view, id=f"{path.stem}-{view}", marks=marks)


@pytest.mark.parametrize(("path", "view"), list(cases()))
def test_every_number_is_traced(path: Path, view: str, subtests: pytest.Subtests) -> None:
    got = compiled(path)
    files = make(got, view, find_theme("plain"), "en")
    for page in (name for name in files if name.endswith(".html")):
        with subtests.test(page):
            lost = missing(CITED.sub(" ", files[page].decode()), (*corpora(path), built(got, files, page)))
            told = dict.fromkeys(f"{page}: {t.word} {t.unit}".rstrip() + f" in “{t.context[:160]}”" for t in lost)
            assert not told, f"{len(told)} numbers of {path.stem} ({view}) come from nowhere:\n" + "\n".join(told)


def test_a_number_that_nobody_computed_is_seen() -> None:
    corpus = Corpus()
    figure = {"value": 8.087, "unit": "A", "text": "8.1 A", "formula": "P/U", "inputs": [], "assumptions": []}
    corpus.document({"load": figure, "counts": {"boxes": 12}}, {})
    page = "<p>8.1 A and 8.09 A, 12 boxes</p><p>8.2 A</p><p>12 A</p><script>var x = 99</script><p aria-label='77'>"
    assert [(t.word, t.unit) for t in missing(page, [corpus])] == [("8.2", "A"), ("12", "A"), ("77", "")]


@pytest.mark.parametrize(("text", "found"), [
    ("6.3 A of 12.8 A", [("6.3", "A"), ("12.8", "A")]),
    ("−6 dB at 2.5 mm²", [("−6", "dB"), ("2.5", "mm²")]),
    ("606–614 MHz", [("606–614", "MHz")]),
    ("10.9 / 8.1 A on L1", [("10.9/8.1", "A"), ("L1", "")]),
    ("90° left, 93 dB(A)", [("90", "°"), ("93", "dB(A)")]),
    ("in 7, 6 out", [("7", ""), ("6", "")]),
])
def test_numbers_are_read_with_their_units(text: str, found: list[tuple[str, str]]) -> None:
    assert [(t.word, t.unit) for t in tokens(text)] == found


def test_scales_are_even_or_by_octaves() -> None:
    even = [Mark(1, 10 * n, 0, str(n)) for n in range(5)]
    octaves = [Mark(2, 10 * n, 0, f"{2**n} kHz") for n in range(5)]
    legend = [Mark(3, 0, 0, "≤ 86"), Mark(3, 9, 0, "86–88"), Mark(3, 18, 0, "88–90")]
    assert off_scale([*even, *octaves, *legend]) == []
    assert [m.text for m in off_scale([*even, Mark(1, 50, 0, "6")])] == ["6"]
    assert read('<svg><text x="1" y="2" class="axis">5</text></svg>')[1] == [Mark(1, 1.0, 2.0, "5")]
