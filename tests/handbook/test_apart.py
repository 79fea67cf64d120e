"""The walk test made by a second process: the same handbook, whatever becomes of that process."""

from __future__ import annotations

import os
import sys
from pathlib import Path

import pytest

from helpers.sites import shows
from rigbook.checks.compiled import Compiled
from rigbook.handbook import apart
from rigbook.handbook.make import make
from rigbook.handbook.themes import find_theme
from rigbook.pipeline import compile_plan

pytestmark = pytest.mark.skipif(not sys.platform.startswith("linux"), reason="other systems build in one process")


@pytest.fixture(scope="module")
def revue() -> Compiled:
    return compile_plan(next(show for show in shows() if show.stem == "parish-revue"))


@pytest.mark.parametrize(("view", "language"), [("crew", "en"), ("crew", "de"), ("guest", "en"), ("public", "en")])
def test_the_same_files_in_the_same_order(
    view: str, language: str, revue: Compiled, monkeypatch: pytest.MonkeyPatch
) -> None:
    forked = []
    real = os.fork
    monkeypatch.setattr(os, "fork", lambda: forked.append(1) or real())
    theme = find_theme("plain")
    alone = make(revue, view, theme, language)
    assert not forked
    both = make(revue, view, theme, language, forks=True)
    assert list(both.items()) == list(alone.items())
    assert bool(forked) == (view != "public")


def test_a_process_that_fails_is_made_up_for(revue: Compiled, monkeypatch: pytest.MonkeyPatch) -> None:
    theme = find_theme("plain")
    alone = make(revue, "crew", theme)
    here, real = os.getpid(), apart.walk_test.page

    def page(book: apart.Book) -> object:
        if os.getpid() != here:
            os._exit(7)
        return real(book)

    monkeypatch.setattr(apart.walk_test, "page", page)
    assert make(revue, "crew", theme, forks=True) == alone


def test_no_process_is_left_and_none_is_begun_for_little(revue: Compiled, tmp_path: Path) -> None:
    make(revue, "crew", find_theme("plain"), forks=True)
    with pytest.raises(ChildProcessError):
        os.waitpid(-1, os.WNOHANG)
    plan = tmp_path / "plan.yaml"
    plan.write_text("plan: 1\nshow: Supper\n")
    small = compile_plan(plan)
    assert len(small.rig.net.nodes) < apart.LEAST
    with apart.worker(apart.Book.of(small, "crew"), find_theme("plain"), wanted=True) as made:
        assert made is None
