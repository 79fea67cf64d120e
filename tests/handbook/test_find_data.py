"""What the Find field finds: everything that has a place, nothing that the view does not show."""

from __future__ import annotations

import json
import re

import pytest

from rigbook.handbook.book import Book
from rigbook.handbook.find_data import NAME, find_data
from rigbook.handbook.make import make
from rigbook.handbook.themes import find_theme
from rigbook.handbook.tongues import tongue

PUBLIC_BYTES = 100_000
"""What the front page of the public view may load."""


def found(files: dict[str, bytes]) -> dict[str, list[list[str]]]:
    """The lines of the file by sort: text, detail, address, other words."""
    text = files[NAME].decode()
    assert text.startswith("window.rigbookFind=") and text.endswith(";\n")
    data = json.loads(text.removeprefix("window.rigbookFind=").removesuffix(";\n"))
    return {sort: [row[1:] for row in data["rows"] if data["sorts"][row[0]] == sort] for sort in data["sorts"]}


@pytest.fixture(scope="module")
def hall_files(hall) -> dict[str, dict[str, bytes]]:
    return {view: make(hall, view, find_theme("plain")) for view in ("crew", "guest", "public")}


def test_everything_of_the_plan_is_found(hall, hall_files) -> None:
    rows = found(hall_files["crew"])
    plan = hall.plan
    assert [r[0] for r in rows["Device"]] == list(plan.units)
    assert [r[0] for r in rows["Channel"]] == [f"{c.number} {c.name}" for c in plan.channels]
    assert len(rows["Cable"]) == len({c.sheath for c in plan.cables})
    assert {r[0] for r in rows["Bus"]} == {b.name for b in plan.buses.values()}
    sockets = {s.id for c in plan.cables for s in (c.start, c.end)} | {s.id for c in plan.channels for s in c.sockets}
    assert sockets <= {r[0] for r in rows["Socket"]}
    assert {"Ada Fennimore", "Tobin Marsh"} <= {r[0] for r in rows["Person"]}
    assert {"Patch", "Labels"} <= {r[0] for r in rows["Page"]}
    assert {"stage-rack"} == {r[0] for r in rows["Rack"]} and rows["Circuit"]


def test_steps_and_lines_of_the_walk_test_are_found_by_their_keys(hall, hall_files) -> None:
    from rigbook.walk.line_check import line_check
    from rigbook.walk.steps import steps

    rows = found(hall_files["crew"])
    assert [r[0] for r in rows["Step of the walk test"]] == [str(s.title) for s in steps(hall.rig)]
    for key, row in zip([s.key for s in steps(hall.rig)], rows["Step of the walk test"], strict=True):
        assert key in row[3].split() and row[2].startswith("walk-test.html#")
    for line, row in zip(line_check(hall.rig), rows["Line check"], strict=True):
        assert line.key in row[3].split() and row[1] == line.socket


def test_every_line_leads_to_a_place(hall_files) -> None:
    for files in hall_files.values():
        for text, _, href, _ in (row for rows in found(files).values() for row in rows):
            page, _, place = href.partition("#")
            assert page in files, text
            assert not place or f'id="{place}"' in files[page].decode(), href


def test_a_view_finds_only_what_it_shows(hall, hall_files) -> None:
    guest, public = (hall_files[view][NAME].decode() for view in ("guest", "public"))
    for word in ("Tobin Marsh", "Maud Okafor", "labels.html", "pull-list.html", "checks.html"):
        assert word not in guest, word
    assert "Ada Fennimore" in guest and "Ada Fennimore" not in public
    for name in (*hall.plan.units, *(c.name for c in hall.plan.channels), *hall.plan.racks):
        assert not re.search(rf"\b{re.escape(name)}\b", public) or name in ("desk", "box"), name
    assert set(found(hall_files["public"])) <= {"Page", "Part of a page", "Audience area", "Person"}


def test_short_codes_numbers_and_other_names_are_words(hall_files) -> None:
    rows = found(hall_files["crew"])
    whistle = next(r for r in rows["Channel"] if "Whistle" in r[0])
    assert {"ch", "ch7", "7"} <= set(f"{whistle[0]} {whistle[3]}".lower().split())
    for code, _, _, words in rows["Cable"]:
        assert code.replace("-", "") in words.split()


def test_the_public_front_page_stays_light(hall_files) -> None:
    """Everything that its front page names, and what those files name; the data is read only when it is asked for."""
    files = hall_files["public"]
    front = files["index.html"].decode()
    named = {name for name in files if name.startswith("static/") and name in front}
    assert "static/find.js" in named and not re.search(rf'<script[^>]*{re.escape(NAME)}', front)
    assert len(files["index.html"]) + sum(len(files[name]) for name in named) < PUBLIC_BYTES


def test_in_another_language_the_sorts_are_too(hall, hall_files) -> None:
    mirrored = Book.of(hall, "crew", tongue("x-mirror"))
    rows = found({NAME: find_data(mirrored, (), hall_files["crew"])})
    assert not set(rows) & {"Device", "Channel", "Cable"}
    assert any(row[0] == "7 Whistle" for each in rows.values() for row in each), "what the plan says stays"
