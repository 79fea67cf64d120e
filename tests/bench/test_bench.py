"""The benchmark still runs: its plan is one that rigbook finds nothing wrong with, and its arithmetic is right."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from bench import floor, gen_plan, level_map, radio, run, timing, walk
from helpers.random_rigs import seeded
from helpers.walk_cases import Spread, cases
from helpers.walk_rigs import rig_of
from rigbook.physics.intermodulation_hits import hits


@pytest.mark.parametrize(("items", "shared_bus"), [(150, False), (450, True)])
def test_the_plan_is_clean(items: int, shared_bus: bool, tmp_path: Path) -> None:
    plan = tmp_path / "plan.yaml"
    plan.write_text(gen_plan.plan(items, shared_bus), "utf-8")
    done = subprocess.run([run.RIGBOOK, "check", str(plan)], capture_output=True, text=True, check=False, timeout=120)
    assert done.returncode == 0, done.stdout + done.stderr


def test_the_floor_does_the_whole_work(tmp_path: Path) -> None:
    plan = tmp_path / "plan.yaml"
    plan.write_text(gen_plan.plan(), "utf-8")
    floor.main(["--out", str(tmp_path / "out"), str(plan)])
    pages = sorted((tmp_path / "out" / "0").glob("*.html"))
    assert len(pages) == len(floor.PAGES)
    assert all(p.read_text("utf-8").count("<tr id=") == 60 for p in pages)
    assert floor.graph(floor.read(plan.read_bytes())).number_of_nodes() > 150


def test_a_shared_bus_makes_reach_grow() -> None:
    import networkx

    def reach(items: int, shared_bus: bool) -> int:
        g = floor.graph(floor.read(gen_plan.plan(items, shared_bus).encode()))
        return len(networkx.descendants(g, "source Fiddle 1"))

    assert reach(900, False) == reach(150, False)
    assert reach(900, True) > reach(150, True)


def test_the_map_that_is_measured_has_the_size_it_says() -> None:
    got = level_map.compiled(level_map.plan())
    (only,) = got.levels.maps
    assert (len(got.levels.sources), int(only.inside.sum()), len(only.levels) - 1) == (24, 2000, 8)
    assert all(t > 0 for t in level_map.measure(1))


def test_the_naive_way_finds_the_same_hits() -> None:
    few = radio.carriers(40)
    found = {(hit.frequency_hz, hit.victim) for hit in hits(few, radio.GUARD_HZ)}
    assert radio.naive(few) == found
    assert len(found) > 50
    assert len(set(radio.carriers())) == radio.TRANSMITTERS == 200


def test_timing_takes_both_sides_in_turn() -> None:
    empty, busy = [sys.executable, "-c", "pass"], [sys.executable, "-c", "import time; time.sleep(.3)"]
    got = timing.pair(busy, empty, times=2)
    assert got.ratio > 1
    assert got.a.wall > 0.3
    with pytest.raises(RuntimeError, match="exit 3"):
        timing.run([sys.executable, "-c", "raise SystemExit(3)"])


def test_exponent_of_a_square_is_two() -> None:
    assert run.exponent((10, 1.0), (100, 100.0)) == pytest.approx(2)


def test_walk_figures_are_of_every_fault() -> None:
    table, ours, plain = walk.measured(rig_of(seeded(2).text))
    count, heard, left = walk.spreads(cases(table))
    assert count == len(table.testable) > 50
    assert heard.most >= left.most >= 1
    assert 0 < ours < plain
    assert Spread.of([1, 1, 1, 7]) == Spread(1, 7, 7)
