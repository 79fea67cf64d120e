"""Each show, broken in one way: the findings that must follow are there, and nothing else has changed.

A few faults of each kind run always; with `--slow` many of each kind, in every show.
"""

from __future__ import annotations

import random
import shutil
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from helpers.check_pages import printed
from helpers.mutants import Mutant, Show
from helpers.mutants_catalogue import OPERATORS, WITHOUT
from helpers.tools import ROOT
from rigbook.checks.catalogue import names
from rigbook.findings.finding import Finding
from rigbook.pipeline import Compiled, compile_plan

SHOWS = sorted(p.relative_to(ROOT) for p in (ROOT / "shows").glob("*/*.yaml"))
QUICK = tuple(
    Path("shows") / name
    for name in ("rural-hall/reel-night.yaml", "chapel/lessons-and-songs.yaml", "festival/meadow.yaml",
                 "festival/orchard.yaml", "rural-hall/parish-revue.yaml")
)  # fmt: skip
"""Shows of the quick run: a fault is made in the first that has room for it."""
FEW, MANY = 1, 4
"""Faults of a kind, in the quick run in one show, in the slow run in every show."""
Operator = Callable[[Show], Iterator[Mutant]]


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A copy of all shows, to be broken."""
    copy = tmp_path_factory.mktemp("mutants")
    shutil.copytree(ROOT / "shows", copy / "shows")
    return copy


@pytest.fixture(scope="module")
def good(folder: Path) -> dict[Path, Compiled]:
    """The shows that name channels, as they are."""
    compiled = {path: compile_plan(folder / path, folder) for path in SHOWS}
    return {path: c for path, c in compiled.items() if c.plan and c.plan.channels}


@pytest.mark.parametrize("operator", OPERATORS, ids=lambda o: o.__name__)
def test_a_few(operator: Operator, folder: Path, good: dict[Path, Compiled], subtests: pytest.Subtests) -> None:
    made: set[str] = set()
    for path in QUICK:
        kinds = {m.kind for m in operator(Show(good[path]))} - made
        _break(operator, path, FEW, folder, good[path], subtests, kinds)
        made |= kinds


@pytest.mark.slow
@pytest.mark.parametrize("operator", OPERATORS, ids=lambda o: o.__name__)
@pytest.mark.parametrize("path", SHOWS, ids=lambda p: p.stem)
def test_many(
    operator: Operator, path: Path, folder: Path, good: dict[Path, Compiled], subtests: pytest.Subtests
) -> None:
    if path in good:
        kinds = {m.kind for m in operator(Show(good[path]))}
        _break(operator, path, MANY, folder, good[path], subtests, kinds)


def _break(
    operator: Operator,
    path: Path,
    most: int,
    folder: Path,
    good: Compiled,
    subtests: pytest.Subtests,
    kinds: set[str],
) -> None:
    show = Show(good)
    every = list(operator(show))
    chosen = []
    for kind in sorted(kinds):
        alike = [m for m in every if m.kind == kind]
        # the seed is fixed, so that a failure comes again
        chosen += random.Random(f"{path} {kind}").sample(alike, min(most, len(alike)))
    for mutant in chosen:
        with subtests.test(f"{mutant.kind}: {mutant.what}"):
            broken = _compiled(show, mutant, path, folder)
            new = [f for f in broken.findings if not _was_there(f, good)]
            shown = printed(Compiled(broken.root, broken.sources, broken.plan, broken.rig, tuple(new)))
            assert len(new) == mutant.count if mutant.count >= 0 else new, shown
            assert {f.check for f in new} <= mutant.checks, shown
            assert not mutant.own or mutant.own in {f.check for f in new}, shown
            assert all(_names(f, mutant.about) for f in new), shown


def _compiled(show: Show, mutant: Mutant, path: Path, folder: Path) -> Compiled:
    """The show with the fault in it; the files are as before afterwards."""
    files = show.edited(mutant)
    try:
        for name, text in files.items():
            (folder / name).write_text(text, "utf-8")
        return compile_plan(folder / path, folder)
    finally:
        for name in files:
            (folder / name).write_text(show.sources[name].text, "utf-8")


def _was_there(finding: Finding, good: Compiled) -> bool:
    """By name and message: places move when a line goes."""
    return any((f.check, f.message) == (finding.check, finding.message) for f in good.findings)


def _names(finding: Finding, about: tuple[str, ...]) -> bool:
    said = " ".join((finding.message, finding.effect, finding.remedy, finding.path, *finding.objects))
    return not about or any(name in said for name in about)


def test_every_kind_of_fault_is_made_somewhere(good: dict[Path, Compiled]) -> None:
    shows = [Show(c) for c in good.values()]
    assert [o.__name__ for o in OPERATORS if not any(list(o(s)) for s in shows)] == []


def test_every_check_has_a_mutant_or_a_reason(good: dict[Path, Compiled]) -> None:
    mutants = [m for c in good.values() for o in OPERATORS for m in o(Show(c))]
    own = {check for m in mutants for check in ((m.own,) if m.own else m.checks)}
    assert sorted(names().keys() - own) == sorted(WITHOUT)
