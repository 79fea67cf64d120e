"""Faults that a person makes: each gives exactly one message, whose remedy, carried out to the letter, leaves none.

The faults stand in `faults/`, a file for each show; `helpers/faults.py` says how they are written. One in eight runs
always; with `--slow` all of them.
"""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from helpers.check_pages import printed
from helpers.faults import Fault, changed, faults, obeyed
from helpers.tools import ROOT
from rigbook.pipeline import Compiled, compile_plan

PAGES = sorted((Path(__file__).parent / "faults").glob("*.md"))
SHOWS = {p.stem: p.relative_to(ROOT).as_posix() for p in (ROOT / "shows").glob("*/*.yaml")}
EVERY = [(page.stem, fault) for page in PAGES for fault in faults(page, SHOWS[page.stem])]
SOME = [pytest.param(*one, marks=() if n % 8 == 0 else pytest.mark.slow) for n, one in enumerate(EVERY)]


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A copy of all shows, to be broken."""
    copy = tmp_path_factory.mktemp("faults")
    shutil.copytree(ROOT / "shows", copy / "shows")
    return copy


def test_no_fault_is_written_twice() -> None:
    titles = [(show, fault.title) for show, fault in EVERY]
    assert len(titles) == len(set(titles))


@pytest.mark.parametrize(("show", "fault"), SOME, ids=lambda v: v.title if isinstance(v, Fault) else v)
def test_a_fault_is_one_message_that_puts_it_right(show: str, fault: Fault, folder: Path) -> None:
    names = {file for file, _, _ in (*fault.edits, *fault.cure)}
    good = {name: (folder / name).read_text("utf-8") for name in names}
    broken = changed(good, fault.edits)
    got = _compiled(show, broken, good, folder)
    shown = printed(got)
    if fault.check == "nothing":
        assert not got.findings, shown
        return
    assert [f.check for f in got.findings] == [fault.check], shown
    assert fault.words in str(got.findings[0].remedy), shown
    at = got.findings[0].primary.span.file
    good[at], broken[at] = (t.setdefault(at, (folder / at).read_text("utf-8")) for t in (good, broken))
    cured = changed(broken, fault.cure) if fault.cure else obeyed(broken, got.findings[0])
    left = _compiled(show, cured, good, folder)
    assert not left.findings, shown + "\ncarried out:\n" + printed(left)


def _compiled(show: str, texts: dict[str, str], good: dict[str, str], folder: Path) -> Compiled:
    """A show with other texts for some of its files, which are as before afterwards."""
    try:
        for name, text in texts.items():
            (folder / name).write_text(text, "utf-8")
        return compile_plan(folder / SHOWS[show], folder)
    finally:
        for name, text in good.items():
            (folder / name).write_text(text, "utf-8")
