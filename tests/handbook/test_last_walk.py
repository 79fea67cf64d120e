"""The last walk on the front page and the walk-test page: names and texts for the crew, the result for guests too."""

from __future__ import annotations

import pytest

from rigbook.handbook.book import Book
from rigbook.handbook.last_walk import LastWalk, shown
from rigbook.handbook.make import make
from rigbook.handbook.pages import front, walk_test
from rigbook.handbook.themes import find_theme
from rigbook.walk.prints import fingerprints
from rigbook.walk.record import record_text

HEARD = {"main-left": "as expected", "main-right": "top-right hums", "mix": "as expected", "gone": "as expected"}


@pytest.fixture
def walked(compiled):
    """The small plan with a record beside it: one step went wrong, one has changed since, one is gone."""
    prints = fingerprints(compiled().rig) | {"mix": "000000"}
    text = record_text("2027-02-05", "Ada", prints, HEARD, "Fuse **blown**.", "18:20")
    return compiled(**{"plan__walk-1__yaml": text.encode()})


def of(walked, view: str) -> LastWalk:
    got = shown(Book.of(walked, view))
    assert got is not None
    return got


def test_the_crew_reads_who_and_what(walked) -> None:
    got = of(walked, "crew")
    assert (got.date, got.by, got.result) == ("2027-02-05", "Ada", "3 of 4 steps as expected")
    assert [(h.step.text, h.said) for h in got.wrong] == [("main right alone", "top-right hums")]
    assert [str(n).strip() for n in got.notes] == ["<p>Fuse <strong>blown</strong>.</p>"]
    assert [(a.step.text, a.why) for a in got.again] == [
        ("main right alone", "not as expected: top-right hums"), ("mix alone", "changed since"),
        ("Everything for the audience together", "not walked")]
    assert got.again[0].step.href == "walk-test.html#step-main-right"


def test_a_guest_reads_the_result_and_no_names_or_texts(walked) -> None:
    got = of(walked, "guest")
    assert (got.by, got.notes, got.result) == ("", (), "3 of 4 steps as expected")
    assert [h.said for h in got.wrong] == ["not as expected"]
    files = make(walked, "guest", find_theme("plain"))
    for word in ("Ada", "top-right hums", "blown"):
        assert word.encode() not in b"".join(files.values())


def test_both_pages_show_it(walked) -> None:
    book = Book.of(walked, "crew")
    assert front.page(book).data.walked == walk_test.page(book).data.last == of(walked, "crew")
    files = make(walked, "crew", find_theme("plain"))
    for name in ("index.html", "walk-test.html"):
        page = files[name].decode()
        assert all(word in page for word in ("2027-02-05", "Ada", "3 of 4 steps as expected"))
    assert "3 steps to walk again" in files["index.html"].decode()


def test_no_record_nothing_shown(book) -> None:
    assert shown(book()) is None
    assert front.page(book()).data.walked is None


def test_the_public_front_page_does_not_speak_of_it(walked) -> None:
    assert front.page(Book.of(walked, "public")).data.walked is None
