"""A fault answered as a listener would leaves the true one among the suspects, and few probes leave it nearly alone."""

from __future__ import annotations

import statistics
from collections.abc import Iterator
from dataclasses import dataclass

import pytest
from hypothesis import given, settings

from helpers.random_rigs import RandomRig, rigs
from helpers.sites import shows
from helpers.walk_rigs import rig_at, rig_of
from rigbook.walk.suspects import Suspect, narrowed, next_probe, suspects
from rigbook.walk.table import HEAR, HEARD, Row, Seen, Table

PROBES = 3


@dataclass(frozen=True)
class Case:
    """How a fault was found: suspects before and after the probes, as groups and as single faults."""

    row: Row
    start: int
    groups: int
    faults: int


def cases(table: Table) -> Iterator[Case]:
    everything = {s for r in table.testable for s in r.effects if s.kind in HEARD}
    for row in table.testable:
        answers = {s: row.effects.get(s, "") for s in everything if not (row.behind and s.play in table.line_keys)}
        left = suspects(table, answers)
        assert holds(left, row), row.fault.key
        start = len(left)
        for _ in range(PROBES):
            probe = next_probe(table, left, answers)
            if probe is None:
                break
            answers, left = narrowed(table, answers, probe, row.effects.get(probe.seen, ""))
        assert holds(left, row), row.fault.key
        yield Case(row, start, len(left), sum(len(s.rows) for s in left))


def holds(left: tuple[Suspect, ...], row: Row) -> bool:
    return any(row in s.rows for s in left)


@pytest.mark.slow
@pytest.mark.parametrize("show", shows(), ids=lambda p: p.stem)
def test_three_probes_are_enough(show: object, capsys: pytest.CaptureFixture[str]) -> None:
    table = Table.of(rig_at(show))  # type: ignore[arg-type]
    found = list(cases(table))
    counts = sorted(c.faults for c in found)
    p95 = counts[int(0.95 * len(counts))]
    with capsys.disabled():
        starts = sorted(c.start for c in found)
        print(
            f"\n{show.stem}: {len(found)} faults shown, {len(table.untestable)} not; suspects at first: median "  # type: ignore[attr-defined]
            f"{statistics.median(starts):g}, 95 % {starts[int(0.95 * len(starts))]}; after {PROBES} probes: median "
            f"{statistics.median(counts):g}, 95 % {p95}, most {counts[-1]}"
        )
    assert statistics.median(counts) == 1
    assert p95 <= 3


@settings(max_examples=10, deadline=None)
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
