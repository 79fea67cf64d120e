"""The fault finder on paper: patterns in few words, and pairs of boxes that must add."""

from __future__ import annotations

import pytest

from helpers.sites import shows
from helpers.walk_rigs import rig_at
from rigbook.walk.finder import MOST_STEPS, pattern_words, titles_of, troubles
from rigbook.walk.pairs import band_overlap, distinct, nearest
from rigbook.walk.sounding import Range
from rigbook.walk.step import Pair
from rigbook.walk.table import FADER, HEAR, PAIR, Seen, Table


@pytest.fixture(scope="module")
def table() -> Table:
    (show,) = [p for p in shows() if p.stem == "reel-night"]
    return Table.of(rig_at(show))


def test_every_fault_stands_under_its_pattern_once(table: Table) -> None:
    rows = [r for t in troubles(table) for s in t.suspects for r in s.rows]
    assert len(rows) == len(table.testable)
    assert {id(r) for r in rows} == {id(r) for r in table.testable}


def test_patterns_are_in_the_order_of_the_walk(table: Table) -> None:
    order = list(titles_of(table))
    places = [order.index(t.step) for t in troubles(table)]
    assert places == sorted(places)


def words(table: Table, *heard: tuple[str, str, str, str]) -> str:
    return pattern_words(table, titles_of(table), [(Seen(*h[:3]), h[3]) for h in heard], heard[0][1])


def test_boxes_of_which_the_same_is_to_be_said(table: Table) -> None:
    assert words(table, (HEAR, "subs", "sub-left", "silent"), (HEAR, "subs", "sub-right", "silent")) == "nothing sounds"
    both = ((HEAR, "together", "sub-left", "quiet"), (HEAR, "together", "sub-right", "quiet"))
    assert words(table, *both) == "all of subs too quiet"
    assert words(table, (FADER, "main-left", "top-left", "sounds")) == (
        "with the fader down sounds, must be silent: top-left"
    )
    assert words(table, (PAIR, "together", "top-left|top-right", "hollow")) == (
        "between top-left and top-right hollow, they cancel"
    )


def test_a_later_step_says_only_what_is_new(table: Table) -> None:
    silent = [(HEAR, step, "top-left", "silent") for step in ("main-left", "together")]
    assert words(table, *silent) == "top-left silent"
    more = words(table, silent[0], (HEAR, "subs", "sub-left", "dull"))
    assert more == "top-left silent; in subs alone: sub-left dull, too little above the low end"


def test_a_pattern_of_many_steps_is_cut(table: Table) -> None:
    (network,) = [t for t in troubles(table) if any(r.fault.kind == "network cable open" for r in t.suspects[0].rows)]
    assert network.pattern.endswith("more steps")
    assert network.pattern.count("; in ") == MOST_STEPS - 1


def test_bands_that_meet() -> None:
    """A sub to 150 Hz and a top from 60 Hz do; one to 100 Hz and a horn from 500 Hz do not."""
    assert band_overlap(Range(35, 150), Range(60, 18_000))
    assert not band_overlap(Range(35, 100), Range(500, 18_000))


def test_a_pair_is_one_pair_whichever_way_round(table: Table) -> None:
    assert len(distinct([Pair("a", "b", "x"), Pair("b", "a", "x"), Pair("a", "c", "x")])) == 2
    assert nearest(table.rig, "top-left", ["sub-right", "sub-left"]) == "sub-left"
