"""Two faults at once: each is found as if it were alone, unless a check says that it yields to the other's.

A fault may hide another only where that is declared: `YIELDS_TO`, or one of the rules of `checks/run.py` and
`checks/doubt.py` (what could not be read, and what the signal does not reach).
"""

from __future__ import annotations

import importlib
import random
import shutil
from functools import cache
from itertools import product
from pathlib import Path

import pytest

from helpers.mutants import Mutant, Show
from helpers.mutants_catalogue import OPERATORS
from helpers.tools import ROOT
from rigbook.checks.catalogue import names
from rigbook.checks.doubt import ALSO, COMPUTED, MISLED
from rigbook.checks.run import EARLIER, PATCHED, UNREAD
from rigbook.pipeline import Compiled, compile_plan

SHOWS = tuple(
    Path("shows") / name
    for name in ("rural-hall/reel-night.yaml", "chapel/lessons-and-songs.yaml", "festival/meadow.yaml",
                 "festival/orchard.yaml", "rural-hall/parish-revue.yaml")
)  # fmt: skip
FEW, MANY = 3, 40
"""Pairs in a show, in the quick and in the slow run."""
READING = ("yaml_broken", "file_wrong", "value_broken", "key_broken")
"""Faults that leave a hole in the file: what stands in it is not there to be found."""


@cache
def betters(check: str) -> frozenset[str]:
    """Checks that may hide a finding of this one."""
    group = names().get(check, "")
    try:
        module = importlib.import_module(f"rigbook.checks.{group}.{check.replace('-', '_')}")
    except ModuleNotFoundError:
        return frozenset()
    found = {*EARLIER, *PATCHED, *getattr(module, "YIELDS_TO", ())}
    if getattr(module, "ABSENCE", False):
        found |= set(UNREAD)
    if group != "routing" or group in COMPUTED or check in ALSO:
        found |= set(MISLED)
    for better in tuple(getattr(module, "YIELDS_TO", ())):
        found |= betters(better) if better != check else frozenset()
    return frozenset(found)


@pytest.mark.parametrize("path", SHOWS, ids=lambda p: p.stem)
def test_a_few_pairs(path: Path, tmp_path: Path, subtests: pytest.Subtests) -> None:
    _pairs(path, FEW, tmp_path, subtests)


@pytest.mark.slow
@pytest.mark.parametrize("path", SHOWS, ids=lambda p: p.stem)
def test_many_pairs(path: Path, tmp_path: Path, subtests: pytest.Subtests) -> None:
    _pairs(path, MANY, tmp_path, subtests)


def _pairs(path: Path, most: int, folder: Path, subtests: pytest.Subtests) -> None:
    shutil.copytree(ROOT / "shows", folder / "shows")
    good = compile_plan(folder / path, folder)
    show, dice = Show(good), random.Random(f"pairs of {path}")
    kinds: dict[str, list[Mutant]] = {}
    for operator in OPERATORS:
        for mutant in operator(show) if operator.__name__ not in READING else ():
            if mutant.count:
                kinds.setdefault(mutant.kind, []).append(mutant)
    made = 0
    while made < most:
        one, two = (dice.choice(kinds[k]) for k in dice.sample(sorted(kinds), 2))
        if not _apart(one, two):
            continue
        made += 1
        with subtests.test(f"{one.kind}: {one.what} | {two.kind}: {two.what}"):
            _both_found(show, one, two, path, folder, good)


def _apart(one: Mutant, two: Mutant) -> bool:
    """They touch different lines, and name different things: else they are one fault, or undo each other."""
    lines = [{(e.span.file, e.span.line) for e in m.edits} for m in (one, two)]
    near = any(a[0] == b[0] and abs(a[1] - b[1]) < 2 for a, b in product(*lines))
    return not near and not set(one.about) & set(two.about)


def _both_found(show: Show, one: Mutant, two: Mutant, path: Path, folder: Path, good: Compiled) -> None:
    alone = [_new(show, (m,), path, folder, good) for m in (one, two)]
    both = _new(show, (one, two), path, folder, good)
    for mine, other in (alone, alone[::-1]):
        hiding = {check for check, _ in (*other, *both)}
        for check, line in mine:
            said = any(c == check and at == line for c, at in both) or sum(c == check for c, _ in both) > sum(
                c == check for c, _ in other
            )
            assert said or betters(check) & hiding, f"{check} at {line} is hidden by {sorted(hiding)}"


def _new(show: Show, mutants: tuple[Mutant, ...], path: Path, folder: Path, good: Compiled) -> list[tuple[str, str]]:
    """Checks of the new findings, with the line that each points at as it is typed."""
    together = Mutant("", "", tuple(e for m in mutants for e in m.edits), frozenset(), ())
    files = show.edited(together)
    try:
        for name, text in files.items():
            (folder / name).write_text(text, "utf-8")
        compiled = compile_plan(folder / path, folder)
    finally:
        for name in files:
            (folder / name).write_text(show.sources[name].text, "utf-8")
    was = {(f.check, f.message) for f in good.findings}
    new = [f for f in compiled.findings if (f.check, f.message) not in was]
    return [(f.check, compiled.sources[f.primary.span.file].lines[f.primary.span.line].strip()) for f in new]
