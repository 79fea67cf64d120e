"""A repository that somebody made to harm: nothing outside it is read, nothing waits, every fault has its place."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from rigbook.pipeline import compile_plan
from rigbook.plan.files import plans_in
from rigbook.text.limits import MAX_CHAIN, MAX_FILES

PLAN = "plan: 1\nshow: Barn\nbuilds-on: {}\n"


def found(folder: Path, base: str) -> list[str]:
    """Checks that speak of what a plan in `folder` builds on; each must have a place in it."""
    (folder / ".git").mkdir(exist_ok=True)
    (folder / "plan.yaml").write_text(PLAN.format(base), "utf-8")
    got = compile_plan(folder / "plan.yaml")
    assert got.plan is not None
    assert all(f.primary.span.file for f in got.findings)
    return [f.check for f in got.findings if f.severity.word == "error"]


@pytest.mark.parametrize(
    ("base", "check"),
    [
        ("/etc/passwd", "path-outside"),
        ("/", "path-outside"),
        ("../../../../../../../../../..", "path-outside"),
        ("../house", "path-outside"),
        ("'C:\\house'", "missing-file"),
        ("x" * 300, "missing-file"),
        ("x/" * 3000, "missing-file"),
        ('"a\\0b"', "missing-file"),
        (".", "missing-file"),
        ("~/house", "missing-file"),
        ("plan", "builds-on-ring"),
        ("pipe.yaml", "missing-file"),
        ("folder.yaml", "missing-file"),
        ("ring.yaml", "missing-file"),
        ("outside.yaml", "path-outside"),
        ("outside", "path-outside"),
        ("zero.yaml", "path-outside"),
        ("large.yaml", "too-large"),
    ],
)
def test_what_a_plan_may_not_build_on(base: str, check: str, tmp_path: Path) -> None:
    (tmp_path / "house.yaml").write_text("plan: 1\nvenue: Elsewhere\n", "utf-8")
    root = tmp_path / "root"
    (root / "folder.yaml").mkdir(parents=True)
    os.mkfifo(root / "pipe.yaml")
    (root / "ring.yaml").symlink_to("ring.yaml")
    (root / "outside.yaml").symlink_to(tmp_path / "house.yaml")
    (root / "zero.yaml").symlink_to("/dev/zero")
    with (root / "large.yaml").open("wb") as file:
        file.truncate(5_000_000_000)
    assert [c for c in found(root, base) if c != "wrong-encoding"] == [check]


def test_a_long_row_of_files_ends(tmp_path: Path) -> None:
    for n in range(700):
        (tmp_path / f"f{n}.yaml").write_text(f"plan: 1\nbuilds-on: f{n + 1}\n", "utf-8")
    assert found(tmp_path, "f0") == ["too-large"]
    assert MAX_CHAIN < 700


def test_so_many_files_are_not_read(tmp_path: Path) -> None:
    for n in range(MAX_FILES + 5):
        (tmp_path / f"f{n}.yaml").write_text("plan: 1\n", "utf-8")
    assert found(tmp_path, f"[{', '.join(f'f{n}' for n in range(MAX_FILES + 5))}]") == ["too-large"]


def test_a_title_that_cannot_be_read_is_one(tmp_path: Path) -> None:
    """The folder is said to hold no plan only where it holds none; what is wrong with the title is a finding."""
    (tmp_path / "gear.yaml").write_text("plan: 1\nlibrary: Boxes: ours\n", "utf-8")
    (tmp_path / "gig.yaml").write_text("plan: 1\nshow: Friday: the gig\n", "utf-8")
    assert plans_in(tmp_path) == [tmp_path / "gig.yaml"]


def test_odd_things_beside_a_plan_are_no_records_and_no_plans(tmp_path: Path) -> None:
    (tmp_path / "plan.yaml").write_text("plan: 1\nshow: Barn\n", "utf-8")
    os.mkfifo(tmp_path / "plan.walk-1.yaml")
    (tmp_path / "plan.walk-2.yaml").mkdir()
    (tmp_path / "plan.walk-3.yaml").symlink_to("/etc/passwd")
    (tmp_path / "plan.walk-4.yaml").symlink_to("plan.walk-4.yaml")
    assert plans_in(tmp_path) == [tmp_path / "plan.yaml"]
    assert set(compile_plan(tmp_path / "plan.yaml", tmp_path).sources) == {"plan.yaml"}
