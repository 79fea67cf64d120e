"""One plan, one handbook: the same bytes in another folder, time zone, locale and with another hash seed."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

SHOWS = Path(__file__).parents[2] / "shows"
PLANS = ("rural-hall/parish-revue.yaml", "chapel/lessons-and-songs.yaml")


def built(plan: Path, out: Path, **surroundings: str) -> dict[str, bytes]:
    """The handbook as files, made by the command in a process with these environment variables."""
    command = [sys.executable, "-m", "rigbook", "build", plan.name, "--out", str(out)]
    done = subprocess.run(
        command, cwd=plan.parent, env={**os.environ, **surroundings}, capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stdout + done.stderr
    return {p.relative_to(out).as_posix(): p.read_bytes() for p in sorted(out.rglob("*")) if p.is_file()}


@pytest.mark.parametrize("plan", PLANS)
def test_same_bytes(plan: str, tmp_path: Path) -> None:
    here, there = tmp_path / "here", tmp_path / "somewhere" / "else"
    for root in (here, there):
        shutil.copytree(SHOWS, root / "shows")
        (root / ".git").mkdir()
    one = built(here / "shows" / plan, tmp_path / "one", TZ="UTC", LC_ALL="C", PYTHONHASHSEED="1")
    two = built(there / "shows" / plan, tmp_path / "two", TZ="Asia/Kathmandu", LC_ALL="C.UTF-8", PYTHONHASHSEED="77")
    assert one.keys() == two.keys()
    assert [name for name in one if one[name] != two[name]] == []
