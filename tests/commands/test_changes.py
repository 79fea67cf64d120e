"""`rigbook changes` and `build --since`: paths and git revisions, messages for what cannot be had, nothing written."""

from __future__ import annotations

import json
import subprocess
from pathlib import Path

import pytest

from rigbook.cli import main
from rigbook.pipeline import compile_at
from rigbook.plan.earlier import NoRevision, files_at


def git(root: Path, *words: str) -> str:
    who = ["-c", "user.name=Ada", "-c", "user.email=ada@example.org", "-c", "commit.gpgsign=false"]
    return subprocess.run(["git", *who, *words], cwd=root, check=True, capture_output=True, text=True).stdout


@pytest.fixture
def repository(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Path:
    """A plan in a repository of two commits: in the second its first channel has another name. Returns the plan."""
    root = tmp_path / "house"
    root.mkdir()
    git(root, "init", "-q", "-b", "main")
    assert main(["new", str(root / "barn")]) == 0
    capsys.readouterr()
    plan = next((root / "barn").glob("*.yaml"))
    git(root, "add", ".")
    git(root, "commit", "-q", "-m", "first")
    name = compile_at(plan, "HEAD").plan.channels[0].name
    plan.write_text(plan.read_text("utf-8").replace(f"name: {name}", "name: Bagpipes", 1), "utf-8")
    git(root, "commit", "-q", "-a", "-m", "second")
    return plan


def test_against_a_revision(repository: Path, capsys: pytest.CaptureFixture[str]) -> None:
    before = git(repository.parent, "status", "--porcelain")
    assert main(["changes", "HEAD~1", str(repository)]) == 0
    said = capsys.readouterr().out
    assert "1 change since HEAD~1" in said
    assert "→ Bagpipes (set it on the desk)" in said
    assert "Walk again" in said
    assert git(repository.parent, "status", "--porcelain") == before == "", "nothing is written"
    assert main(["changes", "HEAD", str(repository)]) == 0
    assert "nothing changed since HEAD" in capsys.readouterr().out


def test_against_a_path_and_as_data(repository: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    old = tmp_path / "old.yaml"
    old.write_bytes(files_at(repository.parents[1], "HEAD~1")[f"barn/{repository.name}"])
    assert main(["changes", str(old), str(repository), "--format", "json"]) == 0
    told = json.loads(capsys.readouterr().out)
    (change,) = told["changes"]
    assert (change["group"], change["how"], change["after"]) == ("inputs", "changed", "Bagpipes")
    assert {step["new"] for step in told["walk-again"]} <= {True, False}


@pytest.mark.parametrize(
    ("since", "message"),
    [("nowhere", "neither a plan nor a revision"), ("--output=x", "neither a plan nor a revision"),
     ("HEAD~9", "neither a plan nor a revision"), ("HEAD:barn", "neither a plan nor a revision"),
     ("", "neither a plan nor a revision")],
)  # fmt: skip
def test_no_such_revision(repository: Path, capsys: pytest.CaptureFixture[str], since: str, message: str) -> None:
    with pytest.raises(NoRevision, match=message):
        files_at(repository.parents[1], since)
    if since and not since.startswith("-"):
        assert main(["changes", since, str(repository)]) == 2
        assert message in capsys.readouterr().err
        out = repository.parent / "out"
        assert main(["build", str(repository), "--since", since, "--out", str(out)]) == 2
        assert message in capsys.readouterr().err
        assert not out.exists()


def test_a_plan_that_was_not_there(repository: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Its neighbour of nearly the same name is offered."""
    moved = repository.with_name(f"{repository.stem}s.yaml")
    moved.write_bytes(repository.read_bytes())
    assert main(["changes", "HEAD", str(moved)]) == 2
    said = capsys.readouterr().err
    assert f"there was no `barn/{moved.name}` at `HEAD`" in said
    assert repository.name in said


def test_outside_a_repository(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["new", str(tmp_path / "barn")]) == 0
    capsys.readouterr()
    assert main(["changes", "HEAD", str(tmp_path / "barn")]) == 2
    assert "lies in no git repository" in capsys.readouterr().err


def test_an_earlier_plan_that_is_none(
    repository: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    broken = tmp_path / "broken.yaml"
    broken.write_text("show: [\n", "utf-8")
    assert main(["changes", str(broken), str(repository)]) == 2
    assert "could not be read" in capsys.readouterr().err


def test_no_hook_or_filter_of_the_repository_runs(repository: Path) -> None:
    """What a repository is set up to run at a checkout is not run by looking into it."""
    root = repository.parents[1]
    mark = root / "ran"
    git(root, "config", "filter.mark.smudge", f"touch {mark}; cat")
    git(root, "config", "core.fsmonitor", f"touch {mark}")
    (root / ".git" / "info" / "attributes").write_text("*.yaml filter=mark\n", "utf-8")
    hook = root / ".git" / "hooks" / "post-checkout"
    hook.write_text(f"#!/bin/sh\ntouch {mark}\n", "utf-8")
    hook.chmod(0o755)
    assert compile_at(repository, "HEAD~1").plan is not None
    assert not mark.exists()


def test_the_page_is_there_where_it_was_asked_for(repository: Path, tmp_path: Path) -> None:
    for since, view, there in (("HEAD~1", "crew", True), ("", "crew", False), ("HEAD~1", "guest", False)):
        out = tmp_path / f"{view}-{bool(since)}"
        call = ["build", str(repository), "--out", str(out), "--view", view]
        main([*call, "--since", since] if since else call)
        assert (out / "changes.html").is_file() is there
        if there:
            assert "Bagpipes" in (out / "changes.html").read_text("utf-8")
