"""`rigbook build`: what is printed, which code it ends with, and what it leaves alone."""

from __future__ import annotations

from pathlib import Path

import pytest

from rigbook.cli import main

GOOD = """\
plan: 1
show: Small
units: {desk: desk-16, left: powered-top-12, right: powered-top-12}
inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main}}
buses: {main: {}}
outputs: {main: desk/out 1}
wiring: {xlr: ["desk/out 1 -> left/in, 5 m", "left/link -> right/in, 10 m"]}
"""
BAD = GOOD.replace("-> left/in", "-> lefft/in")


@pytest.fixture
def plan(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    path = tmp_path / "plan.yaml"
    path.write_text(GOOD, "utf-8")
    return path


def test_a_good_plan(plan: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["build", "plan.yaml", "--out", "site", "--fail-on", "error"]) == 0
    assert "open site/index.html" in capsys.readouterr().out
    assert Path("site/index.html").is_file()


def test_a_plan_with_errors_is_built_and_marked(plan: Path, capsys: pytest.CaptureFixture[str]) -> None:
    plan.write_text(BAD, "utf-8")
    assert main(["build", "plan.yaml", "--out", "site"]) == 1
    out = capsys.readouterr().out
    assert "marked as failing" in out
    assert "lefft" in out
    assert "Failing" in Path("site/index.html").read_text("utf-8")


def test_strict_writes_nothing(plan: Path, capsys: pytest.CaptureFixture[str]) -> None:
    plan.write_text(BAD, "utf-8")
    assert main(["build", "plan.yaml", "--out", "site", "--strict"]) == 1
    assert not Path("site").exists()
    assert "nothing was written" in capsys.readouterr().err


@pytest.mark.parametrize("arguments", [
    ["none.yaml", "--out", "site"],
    ["plan.yaml", "--out", "site", "--theme", "none"],
    ["plan.yaml", "--out", "."],
])
def test_what_cannot_be_done_ends_with_2_and_one_line(
    plan: Path, capsys: pytest.CaptureFixture[str], arguments: list[str]
) -> None:
    assert main(["build", *arguments]) == 2
    err = capsys.readouterr().err
    assert err.count("\n") <= 2
    assert "Traceback" not in err
    assert not Path("site").exists()


def test_a_broken_theme_keeps_the_old_handbook(plan: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["build", "plan.yaml", "--out", "site"]) == 0
    before = {p: p.read_bytes() for p in Path("site").rglob("*") if p.is_file()}
    Path("ours/templates").mkdir(parents=True)
    Path("ours/templates/patch.html").write_text("{% extends 'base.html' %}\n{% oops %}", "utf-8")
    capsys.readouterr()
    assert main(["build", "plan.yaml", "--out", "site", "--theme", "ours"]) == 2
    assert "patch.html:2: " in capsys.readouterr().err
    assert {p: p.read_bytes() for p in Path("site").rglob("*") if p.is_file()} == before
