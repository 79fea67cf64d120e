"""What `check` remembers is never anything but what a fresh run would say."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

from rigbook.cli import main
from rigbook.commands import remembered


@pytest.fixture
def plan(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Path:
    """A fresh plan, with an empty cache."""
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    monkeypatch.delenv("RIGBOOK_CACHE", raising=False)
    assert main(["new", str(tmp_path / "barn")]) == 0
    capsys.readouterr()
    return tmp_path / "barn/plan.yaml"


def said(plan: Path, capsys: pytest.CaptureFixture[str]) -> tuple[int, str]:
    code = main(["check", str(plan), "--fail-on", "note"])
    return code, capsys.readouterr().out


@pytest.fixture
def compiled(monkeypatch: pytest.MonkeyPatch) -> list[Path]:
    """The plans that were compiled, not remembered."""
    from rigbook import pipeline

    seen: list[Path] = []
    real = pipeline.compile_plan

    def spy(path: Path, root: Path | None = None) -> object:
        seen.append(path)
        return real(path, root)

    monkeypatch.setattr(pipeline, "compile_plan", spy)
    return seen


def test_unchanged_is_said_again_without_compiling(
    plan: Path, compiled: list[Path], capsys: pytest.CaptureFixture[str]
) -> None:
    plan.write_text(plan.read_text().replace("-> wedge/in", "-> wegde/in"))
    first = said(plan, capsys)
    assert first[0] == 1
    assert said(plan, capsys) == first
    assert len(compiled) == 1


def test_a_changed_base_or_record_or_program_is_looked_at_anew(
    plan: Path, compiled: list[Path], capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    base, top = plan.with_name("house.yaml"), plan
    base.write_text(plan.read_text().replace("show:", "venue:"))
    top.write_text("plan: 1\nshow: Supper\nbuilds-on: house.yaml\n")
    assert said(top, capsys)[0] == said(top, capsys)[0] == 0
    assert len(compiled) == 1
    base.write_text(base.read_text().replace("-> wedge/in", "-> wegde/in"))
    assert "wegde" in said(top, capsys)[1]
    base.with_name("plan.walk-1.yaml").write_text("plan: 2\n")
    assert "plan.walk-1.yaml" in said(top, capsys)[1]
    looks = len(compiled)
    said(top, capsys)
    assert len(compiled) == looks
    monkeypatch.setattr(remembered, "program", lambda: "newer")
    said(top, capsys)
    assert len(compiled) == looks + 1


def test_a_base_that_is_found_elsewhere_now_is_looked_at_anew(
    plan: Path, compiled: list[Path], capsys: pytest.CaptureFixture[str]
) -> None:
    text = plan.read_text().replace("show:", "venue:")
    for name in ("old", "new"):
        plan.with_name(name).mkdir()
        house = text if name == "old" else text.replace("-> wedge/", "-> wegde/")
        (plan.with_name(name) / "house.yaml").write_text(house)
    link = plan.with_name("now")
    link.symlink_to("old")
    plan.write_text("plan: 1\nshow: Supper\nbuilds-on: now/house.yaml\n")
    assert said(plan, capsys) == said(plan, capsys)
    assert len(compiled) == 1
    link.unlink()
    link.symlink_to("new")
    assert "wegde" in said(plan, capsys)[1]


@pytest.mark.parametrize("line", ["builds-on: none.yaml", "notes: {A: '![a](a.png)'}"])
def test_what_waits_for_another_file_is_not_remembered(
    line: str, plan: Path, compiled: list[Path], capsys: pytest.CaptureFixture[str]
) -> None:
    plan.write_text(plan.read_text() + line + "\n")
    assert said(plan, capsys) == said(plan, capsys)
    assert len(compiled) == 2


def test_a_broken_or_closed_cache_does_no_harm(
    plan: Path, compiled: list[Path], capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    first = said(plan, capsys)
    (kept,) = (plan.parents[1] / "cache/rigbook/findings").glob("*.json")
    for data in (b"", b"[]", b"{}", b"\xff", kept.read_bytes()[:-9]):
        kept.write_bytes(data)
        assert said(plan, capsys) == first
    monkeypatch.setenv("XDG_CACHE_HOME", str(plan))  # a file, where no folder can be made
    assert said(plan, capsys) == first
    monkeypatch.setenv("RIGBOOK_CACHE", "off")
    assert said(plan, capsys) == first
    assert len(compiled) == 8


def test_the_first_look_loads_little_and_the_second_nothing_heavy(plan: Path) -> None:
    import subprocess

    code = (
        "import sys; from rigbook.cli import main; main(['check', sys.argv[1]]); "
        "print(sorted({'networkx', 'yaml', 'numpy', 'jinja2', 'dataclasses', 'inspect'} & set(sys.modules)))"
    )
    for expected in ("['yaml']", "[]"):
        done = subprocess.run([sys.executable, "-c", code, str(plan)], capture_output=True, text=True, check=True)
        assert done.stdout.splitlines()[-1] == expected
