"""A fault answered as a listener would leaves the true one among the suspects, and few tests leave it nearly alone.

That the table says what a listener hears is the subject of `test_faults.py`.
"""

from __future__ import annotations

import pytest
from hypothesis import given, settings

from helpers.random_rigs import RandomRig, rigs, seeded
from helpers.sites import shows
from helpers.walk_cases import Spread, cases, holds
from helpers.walk_rigs import rig_at, rig_of
from rigbook.walk.suspects import next_probe, suspects
from rigbook.walk.table import EXCHANGE, HEAR, HEARD, Seen, Table

RANDOM, SAMPLE = 200, 12


def check(table: Table, say: str, capsys: pytest.CaptureFixture[str]) -> None:
    """All of a show: the true fault stays (in `cases`), and three tests leave it nearly alone."""
    found = list(cases(table))
    heard, left = Spread.of(c.heard for c in found), Spread.of(c.left for c in found)
    with capsys.disabled():
        print(f"\n{say}: {len(found)} faults; median / 95 % / most by listening {heard}, with three tests {left}")
    assert left.median == 1
    assert left.p95 <= 3


@pytest.mark.slow
@pytest.mark.parametrize("show", shows(), ids=lambda p: p.stem)
def test_three_tests_are_enough(show: object, capsys: pytest.CaptureFixture[str]) -> None:
    check(Table.of(rig_at(show)), show.stem, capsys)  # type: ignore[attr-defined, arg-type]


def test_three_tests_are_enough_in_a_small_show(capsys: pytest.CaptureFixture[str]) -> None:
    (show,) = [p for p in shows() if p.stem == "lessons-and-songs"]
    check(Table.of(rig_at(show)), show.stem, capsys)


def random_cases(numbers: range, capsys: pytest.CaptureFixture[str]) -> None:
    heard, left, most = [], [], 0
    for number in numbers:
        table = Table.of(rig_of(seeded(number).text))
        for case in cases(table):
            heard.append(case.heard)
            left.append(case.left)
        most = max(most, len(table.rows))
    with capsys.disabled():
        print(f"\n{len(numbers)} random rigs, {len(left)} faults, up to {most} in one; median / 95 % / most by "
              f"listening {Spread.of(heard)}, with three tests {Spread.of(left)}")
    assert Spread.of(left).median == 1
    assert Spread.of(left).p95 <= 3


def test_random_rigs(capsys: pytest.CaptureFixture[str]) -> None:
    """The first of the two hundred."""
    random_cases(range(SAMPLE), capsys)


@pytest.mark.slow
def test_two_hundred_random_rigs(capsys: pytest.CaptureFixture[str]) -> None:
    """Every single fault of every one of them: 100 %."""
    random_cases(range(RANDOM), capsys)


@settings(max_examples=5, deadline=None)
@given(rigs(most_buses=3))
def test_the_true_fault_stays_among_the_suspects(random: RandomRig) -> None:
    for _ in cases(Table.of(rig_of(random.text))):
        pass


@settings(max_examples=5, deadline=None)
@given(rigs(most_buses=3))
def test_one_step_answered_is_enough_to_begin(random: RandomRig) -> None:
    """A reader who has walked only the first step that shows it still has the true fault among the suspects."""
    table = Table.of(rig_of(random.text))
    for row in table.testable:
        play = min(s.play for s, _ in row.heard)
        known = {s for r in table.testable for s in r.effects if s.play == play and s.kind in HEARD}
        answers = {s: row.effects.get(s, "") for s in known}
        assert holds(suspects(table, answers), row), row.fault.key


def test_in_the_line_check_a_fault_behind_the_desk_fits_its_own_boxes_only() -> None:
    """It is not tried there; that it silences its box is allowed for, that it silences another is not."""
    (show,) = [p for p in shows() if p.stem == "reel-night"]
    table = Table.of(rig_at(show))
    rows = {r.fault.key: r for r in table.testable}
    dead = rows["dead top-left/in"]
    line = next(x for x in table.lines if {"top-left", "top-right"} <= set(x.heard))
    assert holds(suspects(table, {Seen(HEAR, line.key, "top-left"): "silent"}), dead)
    assert not holds(suspects(table, {Seen(HEAR, line.key, "top-right"): "silent"}), dead)


def test_what_the_table_says_comes_before_what_it_does_not_rule_out() -> None:
    """In the line check it says what the inputs and the sends do; of what lies behind the desk it says nothing."""
    (show,) = [p for p in shows() if p.stem == "reel-night"]
    table = Table.of(rig_at(show))
    left = suspects(table, {Seen(HEAR, "line-1", "wedge-4"): "silent"})
    assert {s.unsaid for s in left} == {0, 1}
    assert [s.unsaid for s in left] == sorted(s.unsaid for s in left)
    assert left[0].rows[0].fault.kind == "send closed"
    assert all(r.behind == bool(s.unsaid) for s in left for r in s.rows)
    # what another box would do with its cable exchanged says nothing of this one
    assert not any("mix-3" in r.fault.words and "mix-4" not in r.fault.words for s in left for r in s.rows)


def test_pairs_that_the_table_says_come_first() -> None:
    """Two closed sends say all of it; a closed send and a dead box leave half of it open."""
    (show,) = [p for p in shows() if p.stem == "reel-night"]
    table = Table.of(rig_at(show))
    wrong = {Seen(HEAR, "line-1", "wedge-4"): "silent", Seen(HEAR, "line-1", "sub-left"): "silent"}
    boxes = next(x for x in table.lines if x.key == "line-1").heard
    left = suspects(table, {Seen(HEAR, "line-1", b): "" for b in boxes} | wrong)
    assert left and [s.unsaid for s in left] == sorted(s.unsaid for s in left)


def test_the_last_suspect_is_looked_at_before_it_is_believed() -> None:
    """Two boxes of two buses are silent and nothing else was heard yet: one network cable fits; its lights say no."""
    (show,) = [p for p in shows() if p.stem == "reel-night"]
    table = Table.of(rig_at(show))
    answers = {Seen(HEAR, "main-left", "top-left"): "silent", Seen(HEAR, "mix-2", "wedge-2"): "silent"}
    left = suspects(table, answers)
    (only,) = left
    assert only.rows[0].fault.kind == "network cable open"
    test = next_probe(table, left, answers)
    assert test is not None and test.outcomes == (("", ()), ("dark", (0,)))
    assert next_probe(table, left, answers | {test.seen: "dark"}) is None
    after = suspects(table, answers | {test.seen: ""})
    assert after and all(s.both for s in after)


def test_what_one_is_not_sure_of_is_not_asked_again() -> None:
    (show,) = [p for p in shows() if p.stem == "reel-night"]
    table = Table.of(rig_at(show))
    answers = {Seen(HEAR, "main-left", "top-left"): "silent"}
    left, unsure = suspects(table, answers), set[Seen]()
    while test := next_probe(table, left, answers, unsure):
        assert test.seen not in unsure
        unsure.add(test.seen)
    assert len(unsure) > 3


def test_an_exchange_of_two_cables_tells_before_from_behind() -> None:
    """Common practice: silent on another line as well is broken; what falls silent on this line tells of the line."""
    (show,) = [p for p in shows() if p.stem == "reel-night"]
    rows = {r.fault.key: r for r in Table.of(rig_at(show)).testable}
    subject = "amp-tops/out A -> top-left/in|amp-tops/out B -> top-right/in|amp-tops|top-right"
    seen = Seen(EXCHANGE, "main-left", subject)
    for key in ("open box/out 7 -> amp-tops/in A", "dead amp-tops/out A", "unpatched main left box/out 7"):
        assert rows[key].effects.get(seen) == "silent", key
    for key in ("open amp-tops/out A -> top-left/in", "dead top-left/in"):
        assert seen not in rows[key].effects, key
    # the other cable and box are part of the way now
    for key in ("open amp-tops/out B -> top-right/in", "dead top-right/in"):
        assert rows[key].effects.get(seen) == "silent", key
    # exchanged cables, exchanged again, are right: the box plays what it must not play then
    crossed = rows["crossed amp-tops/out A -> top-left/in and amp-tops/out B -> top-right/in"]
    assert crossed.effects.get(seen) == "silent"
    assert rows["turned down amp-tops/out A"].effects.get(seen) == "quiet"


def test_two_faults_at_once() -> None:
    """No single fault silences two boxes of two legs without anything else; a pair does."""
    (show,) = [p for p in shows() if p.stem == "reel-night"]
    table = Table.of(rig_at(show))
    rows = {r.fault.key: r for r in table.testable}
    one = rows["open amp-tops/out A -> top-left/in"]
    two = rows["open amp-wedges/out B -> wedge-2/in"]
    answers = {s: one.effects.get(s) or two.effects.get(s, "") for s in every_sound(table)}
    left = suspects(table, answers)
    assert left and all(s.both for s in left)
    assert any(one in s.rows and two in s.rows for s in left)


def every_sound(table: Table) -> set[Seen]:
    return {s for r in table.testable for s in r.effects if s.kind in HEARD and s.play not in table.line_keys}


def test_nothing_wrong_means_no_suspects() -> None:
    (show,) = [p for p in shows() if p.stem == "reel-night"]
    table = Table.of(rig_at(show))
    assert suspects(table, dict.fromkeys(every_sound(table), "")) == ()


def test_another_shade_of_wrong_counts_half() -> None:
    """A listener who says `quiet` where the table says `thin` is not sent away."""
    (show,) = [p for p in shows() if p.stem == "reel-night"]
    table = Table.of(rig_at(show))
    left = suspects(table, {Seen(HEAR, "main-left", "top-left"): "dull"})
    assert left and left[0].misses == 0.5
