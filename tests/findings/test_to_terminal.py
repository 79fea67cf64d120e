"""Findings as printed, whole."""

from __future__ import annotations

import pytest

from rigbook.findings.finding import Finding, Label, Severity
from rigbook.findings.place import NOWHERE, Source, Span
from rigbook.findings.to_terminal import summary, to_terminal

SHOW = Source(
    "shows/harvest.yaml",
    "\n" * 21 + "  mix-2: box/out 6\n" + "\n" * 18 + "    - box/out 5 -> amp-wedges/in A\n",
)
VENUE = Source("venues/barn.yaml", "plan: 1\nvenue: Mill barn\nunits:\n  box: {kind: stage-box-16}\n")
FILES = {s.file: s for s in (SHOW, VENUE)}


def span(line: int, column: int, length: int, file: str = SHOW.file) -> Span:
    """A place by its 1-based line and column, as printed."""
    return Span(file, line - 1, column - 1, line - 1, column - 1 + length)


UNFED = Finding(
    "unfed-output",
    Severity.ERROR,
    "no bus feeds `box/out 5`",
    Label(span(41, 7, 9), "this cable carries nothing"),
    (Label(span(22, 10, 9), "`mix-2` leaves one socket further on"),),
    effect="the fiddle's wedge stays silent",
    remedy="patch the cable to `box/out 6`, or send `mix-2` to `box/out 5`",
)


def test_the_whole_message() -> None:
    assert (
        to_terminal(UNFED, FILES)
        == """\
error: no bus feeds `box/out 5`                                     [unfed-output]
  shows/harvest.yaml:41:7
   41 |     - box/out 5 -> amp-wedges/in A
      |       ^^^^^^^^^ this cable carries nothing
   22 |   mix-2: box/out 6
      |          --------- `mix-2` leaves one socket further on
  on stage   the fiddle's wedge stays silent
  do this    patch the cable to `box/out 6`, or send `mix-2` to `box/out 5`
  more       rigbook explain unfed-output"""
    )


def test_places_in_other_files_and_on_one_line() -> None:
    finding = Finding(
        "odd-pair",
        Severity.WARNING,
        "`box/out 5` is used by two cables",
        Label(span(41, 7, 9), "here"),
        (
            Label(span(4, 8, 20, VENUE.file), "the box is this one"),
            Label(span(41, 20, 15), "to here"),
            Label(span(22, 10, 9)),
        ),
        path="mix-2 -> box/out 5 -> amp-wedges",
    )
    assert (
        to_terminal(finding, FILES)
        == """\
warning: `box/out 5` is used by two cables                              [odd-pair]
  shows/harvest.yaml:41:7
   41 |     - box/out 5 -> amp-wedges/in A
      |       ^^^^^^^^^ here
   22 |   mix-2: box/out 6
      |          ---------
   41 |     - box/out 5 -> amp-wedges/in A
      |                    --------------- to here
  venues/barn.yaml:4:8
    4 |   box: {kind: stage-box-16}
      |        -------------------- the box is this one
  path       mix-2 -> box/out 5 -> amp-wedges
  more       rigbook explain odd-pair"""
    )


def test_two_marks_below_one_line() -> None:
    finding = Finding("x", Severity.NOTE, "m", Label(span(41, 7, 9), "one"), (Label(span(41, 20, 15), "other"),))
    assert to_terminal(finding, FILES).split("\n")[2:5] == [
        "   41 |     - box/out 5 -> amp-wedges/in A",
        "      |       ^^^^^^^^^ one",
        "      |                    --------------- other",
    ]


def test_without_a_place() -> None:
    finding = Finding("no-plan", Severity.ERROR, "there is no plan here", Label(NOWHERE), remedy="name a file")
    assert (
        to_terminal(finding, {})
        == """\
error: there is no plan here                                             [no-plan]
  do this    name a file
  more       rigbook explain no-plan"""
    )


def test_a_file_that_is_not_at_hand() -> None:
    finding = Finding("x", Severity.ERROR, "m", Label(Span("gear:amps.yaml", 2, 4, 2, 8), "this one"))
    assert to_terminal(finding, {}).split("\n")[1:3] == ["  gear:amps.yaml:3:5", "      | this one"]


def test_a_place_of_no_width_and_one_of_many_lines() -> None:
    empty = Finding("x", Severity.ERROR, "m", Label(span(41, 35, 0)))
    assert to_terminal(empty, FILES).split("\n")[3] == "      |" + " " * 35 + "^"
    long = Finding("x", Severity.ERROR, "m", Label(Span(SHOW.file, 21, 2, 40, 5), "all of it"))
    assert to_terminal(long, FILES).split("\n")[2:4] == [
        "   22 |   mix-2: box/out 6",
        "      |   ^^^^^^^^^^^^^^^^ all of it",
    ]


def test_marks_stand_below_wide_letters_and_tabs() -> None:
    source = Source("a.yaml", "\t名前: {to: 北}  # \x1b[31m\n")
    finding = Finding("x", Severity.ERROR, "`北` is \x1b[31mred", Label(Span("a.yaml", 0, 10, 0, 11), "here\x07"))
    assert to_terminal(finding, {"a.yaml": source}).split("\n") == [
        "error: `北` is ␛[31mred" + " " * 56 + "[x]",
        "  a.yaml:1:11",
        "    1 |     名前: {to: 北}  # ␛[31m",
        "      |                ^^ here␇",
        "  more       rigbook explain x",
    ]


def test_long_lines_are_cut_around_the_place() -> None:
    source = Source("a.yaml", "x" * 300 + "needle" + "y" * 300)
    finding = Finding("x", Severity.ERROR, "m" * 90, Label(Span("a.yaml", 0, 300, 0, 306)))
    lines = to_terminal(finding, {"a.yaml": source}).split("\n")
    assert lines[0] == f"error: {'m' * 90}  [x]"
    text, mark = lines[2][8:], lines[3][8:]
    assert len(text) == 100
    assert (text[0], text[-1]) == ("…", "…")
    assert text[mark.index("^") : mark.rindex("^") + 1] == "needle"


def test_large_line_numbers_widen_the_margin() -> None:
    source = Source("a.yaml", "\n" * 123_455 + "abc")
    finding = Finding(
        "x", Severity.ERROR, "m", Label(Span("a.yaml", 123_455, 0, 123_455, 1)), (Label(Span("a.yaml", 0, 0, 0, 0)),)
    )
    assert to_terminal(finding, {"a.yaml": source}).split("\n")[2:6] == [
        "123456 | abc",
        "       | ^",
        "     1 |",
        "       | -",
    ]


def test_colour_is_all_that_colour_adds() -> None:
    import re

    coloured = to_terminal(UNFED, FILES, colour=True)
    assert coloured.startswith("\x1b[1;31merror\x1b[0m: ")
    assert re.sub(r"\x1b\[[0-9;]*m", "", coloured) == to_terminal(UNFED, FILES)


@pytest.mark.parametrize(
    ("severities", "words"),
    [
        ("", "nothing found"),
        ("E", "1 error"),
        ("EWE", "2 errors, 1 warning"),
        ("NNW", "1 warning, 2 notes"),
    ],
)
def test_summary(severities: str, words: str) -> None:
    by_letter = {"E": Severity.ERROR, "W": Severity.WARNING, "N": Severity.NOTE}
    assert summary(Finding("x", by_letter[s], "m", Label(NOWHERE)) for s in severities) == words
