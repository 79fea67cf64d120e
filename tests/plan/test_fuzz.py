"""A small sample of what `tests/helpers/fuzz.py` runs by the million; and what it found, made small."""

from __future__ import annotations

from pathlib import Path

import pytest

from helpers.fuzz import LEVELS, Seed, fuzz, inputs, seeds, tried
from helpers.mutations import pool_of

ALONE = Seed("", ())
FOUND = (
    "plan: ²",
    "plan: " + "9" * 5000,
    "? " * 3000,
    "units: {play: player-2}\nwiring:\n  xlr: [play/out ² -> 9]",
    "units: {desk: desk-16}\nwiring:\n  xlr: [desk/out " + "9" * 5000 + " -> x]",
    "wiring: {xlr: [box/out 1-2 -> column/in 1-" + "9" * 5000 + "]}",
    "kinds: {t: {is: speaker, title: x, coverage: . x 1..2 deg}}",
    "units: {a: " + "²" * 9000 + "".join(f", ²{i}" for i in range(200)) + "}",
    "inputs:\n  3:\n    insert:\n      send: 5\n     6",
    "changes: {Why: {inputs: {1: {insert: {send: desk/out 5}}}}}",
    "wiring:\n  xlr: [s/1 -> box/in 9]\n  8: [\"2 -> box/in 9-10\"]",
    "builds-on: " + "ba " * 300,
    "builds-on: " + "ba/" * 3000,
    'builds-on: "a\\0b"',
    "builds-on: ../../../../../../../../..",
)


@pytest.mark.parametrize(("level", "runs"), [("reader", 400), ("check", 25), ("build", 2)])
def test_a_sample(level: str, runs: int, tmp_path: Path) -> None:
    assert fuzz(dict(LEVELS)[level], runs, 1, tmp_path) == (runs, [])


@pytest.mark.slow
@pytest.mark.parametrize(("level", "runs"), [("reader", 20_000), ("check", 1000), ("build", 100)])
def test_more_of_it(level: str, runs: int, tmp_path: Path) -> None:
    assert fuzz(dict(LEVELS)[level], runs, 2, tmp_path) == (runs, [])


@pytest.mark.parametrize("text", FOUND, ids=lambda t: t[:30])
def test_what_was_found(text: str, tmp_path: Path) -> None:
    assert tried(dict(LEVELS)["check"], text.encode(), ALONE, tmp_path) == ("", "")


def test_the_same_number_is_the_same_input() -> None:
    plans = seeds()
    pool = pool_of([s.text for s in plans])
    first, second = inputs(3, plans, pool), inputs(3, plans, pool)
    assert [next(first)[1] for _ in range(30)] == [next(second)[1] for _ in range(30)]


def test_a_fault_is_found_and_made_small(tmp_path: Path) -> None:
    def fails(data: bytes, seed: Seed, folder: Path) -> None:
        if b"units" in data:
            raise ValueError("not this word")

    _, faults = fuzz(fails, 40, 1, tmp_path)
    assert [f.data for f in faults] == [b"units"]
