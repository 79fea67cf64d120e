"""Near names: the limit of distance, what costs nothing, and how long it takes."""

from __future__ import annotations

import random
import time

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigbook.findings.suggest import distance, meant, near, only_figures_differ

KNOWN = ("main", "mix-1", "mix-2", "subs", "amp-mains", "amp-wedges", "top-left", "top-right", "box", "low cut")


@pytest.mark.parametrize(
    ("typed", "expected"),
    [
        ("amp-mians", ("amp-mains",)),  # two neighbours swapped
        ("amp-wedge", ("amp-wedges",)),
        ("topleft", ("top-left",)),
        ("Top Left", ("top-left",)),
        ("low_cut", ("low cut",)),
        ("lowcuts", ("low cut",)),
        ("mani", ("main",)),
        ("mix-3", ("mix-1", "mix-2")),
        ("bx", ("box",)),  # of two letters, one may be missing
        ("bo", ("box",)),
        ("xx", ()),
        ("bix", ("box",)),
        ("mx-2", ("mix-2",)),  # figures count as letters do
        ("tpo-lfet", ("top-left",)),
        ("zither", ()),
        ("", ()),
        ("---", ()),
    ],
)
def test_near(typed: str, expected: tuple[str, ...]) -> None:
    assert near(typed, KNOWN) == expected


def test_what_can_be_read_as_one_name_only() -> None:
    assert meant("mian", KNOWN) == "main"
    assert meant("mix-3", KNOWN) == ""
    assert meant("zither", KNOWN) == ""


def test_another_of_its_kind_is_no_slip() -> None:
    assert only_figures_differ("wedge-5", "wedge-4")
    assert not only_figures_differ("wede-4", "wedge-4")
    assert not only_figures_differ("wedge-4", "wedge-4")


def test_the_limit_is_a_third_of_the_letters() -> None:
    assert near("abcdef", ["abcdxy"]) == ("abcdxy",)
    assert near("abcdef", ["abcxyz"]) == ()
    assert near("abcde", ["abcxy"]) == ()


def test_the_nearest_come_first_and_few() -> None:
    known = ["amp-12345", "amp-12355", "amp-12344", "amp-1234"]
    assert near("amp-12345", known) == ("amp-12355", "amp-12344", "amp-1234")
    assert near("amp-12345", known, limit=1) == ("amp-12355",)


def test_the_name_itself_is_not_offered() -> None:
    assert near("main", ["main", "Main"]) == ("Main",)


def slow(a: str, b: str) -> int:
    """Oracle: optimal string alignment by its definition, the whole table."""
    table = {(i, -1): i + 1 for i in range(-1, len(a))} | {(-1, j): j + 1 for j in range(-1, len(b))}
    for i, x in enumerate(a):
        for j, y in enumerate(b):
            best = min(table[i - 1, j] + 1, table[i, j - 1] + 1, table[i - 1, j - 1] + (x != y))
            if i and j and x == b[j - 1] and a[i - 1] == y:
                best = min(best, table[i - 2, j - 2] + 1)
            table[i, j] = best
    return table[len(a) - 1, len(b) - 1]


WORD = st.text("abcd", max_size=9)


@given(WORD, WORD, st.integers(0, 5))
def test_distance(a: str, b: str, limit: int) -> None:
    assert distance(a, b, limit) == min(slow(a, b), limit + 1)
    assert distance(a, b, limit) == distance(b, a, limit)


@pytest.mark.parametrize(
    ("a", "b", "expected"),
    [("kitten", "sitting", 3), ("ca", "abc", 3), ("teh", "the", 1), ("", "abc", 3)],
)
def test_distance_by_hand(a: str, b: str, expected: int) -> None:
    """`kitten`/`sitting` is the usual example of Levenshtein's distance; `ca`/`abc` tells optimal string alignment
    (3) from the unrestricted distance (2). Both from memory, and counted by hand."""
    assert distance(a, b, 9) == expected


def test_five_thousand_names_take_no_time() -> None:
    """Measured: 3 to 6 ms on the machine it was written on; the bound only catches a change of order."""
    draw = random.Random(1)
    known = ["".join(draw.choices("abcdeimnoprst-", k=draw.randint(4, 14))) for _ in range(5000)]
    start = time.perf_counter()
    near("amp-wedges", known)
    assert time.perf_counter() - start < 0.25
