"""The commissioning record: every topic once, proved by the last record, watched by checks, or said why not."""

from __future__ import annotations

import re

import pytest

from helpers.sites import shows
from rigbook.checks.catalogue import names
from rigbook.handbook.book import Book
from rigbook.handbook.make import make
from rigbook.handbook.pages import commissioning
from rigbook.handbook.pages.commissioning import ASKED, Row
from rigbook.handbook.themes import find_theme
from rigbook.handbook.topics import GROUPS, NEEDS, PAGES, TOPICS
from rigbook.pipeline import compile_plan
from rigbook.walk.prints import fingerprints
from rigbook.walk.record import record_text


def rows(book: Book) -> dict[str, Row]:
    data = commissioning.page(book).data
    return {r.topic: r for g in data.groups for r in g.rows}


def topic(book: Book, start: str) -> Row:
    (row,) = [r for words, r in rows(book).items() if words.startswith(start)]
    return row


def test_what_topics_name_is_there() -> None:
    assert {c for t in TOPICS for c in t.checks} <= set(names())
    assert {p for t in TOPICS for p in t.pages} <= set(PAGES)
    assert {t.group for t in TOPICS} == set(GROUPS)
    assert {t.needs for t in TOPICS} - {""} == set(NEEDS) == set(ASKED)
    assert len({t.words for t in TOPICS}) == len(TOPICS)


def test_no_topic_is_left_without_a_way() -> None:
    """Each is proved by something, unless the plan cannot speak of it at all."""
    for t in TOPICS:
        assert t.walk or t.checks or t.instrument or t.look or t.planned or t.needs == "never", t.words


def test_nothing_is_quoted_and_nothing_called_safe() -> None:
    """Item numbers of the standard look like `AB-123`; standards say `shall`."""
    text = " ".join(f"{t.words} {t.instrument} {t.look}" for t in TOPICS)
    assert not re.search(r"\b[A-Z]{2,4}-?\d{2,3}\b|\bshall\b|\bsafe", text)


@pytest.mark.parametrize("show", shows(), ids=lambda p: p.stem)
def test_each_show_has_every_topic_once(show) -> None:
    book = Book.of(compile_plan(show), "crew")
    found = [r for g in commissioning.page(book).data.groups for r in g.rows]
    assert [r.number for r in found] == list(range(1, len(TOPICS) + 1))
    for row in found:
        assert bool(row.without) != bool(row.walked or row.watched or row.instrument or row.look or row.planned)
        assert not (row.without and row.pages)


def test_before_anybody_walked(hall) -> None:
    row = topic(Book.of(hall, "crew"), "Left and right")
    assert (row.walked.words, row.walked.good, row.walked.todo) == ("not walked yet: 2 steps", False, ())


def test_the_last_record_proves_and_names_what_is_left(compiled) -> None:
    prints = fingerprints(compiled().rig)
    heard = {"main-left": "as expected", "main-right": "top-right hums", "mix": "as expected"}
    text = record_text("2027-02-05", "Ada", {**prints, "mix": "000000"}, heard)
    book = Book.of(compiled(**{"plan__walk-1__yaml": text.encode()}), "crew")
    sides = topic(book, "Left and right").walked
    assert (sides.words, sides.good) == ("1 of 2 steps as expected, 2027-02-05", False)
    assert [(s.text, s.href) for s in sides.todo] == [("main right alone", "walk-test.html#step-main-right")]
    # walked, but the plan has changed there since
    assert topic(book, "Each monitor mix").walked.words == "not walked yet: 1 step"
    every = topic(book, "The tests are on record")
    assert not every.watched.good
    assert every.watched.href == "checks.html#check-stale-walk-test"
    good = record_text("2027-02-06", "Ada", prints, dict.fromkeys(prints, "as expected"))
    book = Book.of(compiled(**{"plan__walk-2__yaml": good.encode()}), "crew")
    assert all(r.walked.good and not r.walked.todo for r in rows(book).values() if r.walked)


def test_what_the_plan_lacks_does_not_apply(book) -> None:
    b = book()
    without = {r.topic: str(r.without) for r in rows(b).values() if r.without}
    assert without["Bands meet where they are meant to: filters of subs and tops"] == "the plan has no bus for subs"
    assert without["Racks stay cool"] == "the plan has no rack"
    assert sum(t.group == "wireless" for t in TOPICS) == sum("radio" in why for why in without.values())


def test_planned_figures_stand_beside_the_readings(hall) -> None:
    book = Book.of(hall, "crew")
    assert topic(book, "The system is loud enough").planned == "at most 97 dB, the limit of the place"
    assert topic(book, "No hum").planned == "background noise of the room 34 dB"
    # a reverberation time beside a speech transmission index says which of them it is
    assert topic(book, "Speech is understood").planned == "reverberation time of the room 1.1 s"
    loads = topic(book, "Loudspeaker lines").planned
    assert len(loads.split(", ")) == 6
    assert "amp-tops/out A 8" in loads


def test_the_counts_add_up(hall) -> None:
    book = Book.of(hall, "crew")
    data = commissioning.page(book).data
    number = {str(c).partition(" ")[2]: int(str(c).partition(" ")[0]) for c in data.counts}
    assert number["topics"] == len(TOPICS)
    assert number["that do not apply"] == sum(bool(r.without) for r in rows(book).values()) > 0
    assert number["that need an instrument"] == sum(bool(r.instrument) for r in rows(book).values())


def test_it_is_for_the_crew(hall) -> None:
    for view in ("guest", "public"):
        assert "commissioning.html" not in make(hall, view, find_theme("plain"))
    page = make(hall, "crew", find_theme("plain"))["commissioning.html"].decode()
    assert "from memory" in page
    assert page.count('class="rule"') == sum(not r.without for r in rows(Book.of(hall, "crew")).values())
