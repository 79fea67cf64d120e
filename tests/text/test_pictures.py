"""Pictures are found inside the repository only."""

from __future__ import annotations

from pathlib import Path

import pytest

from rigbook.text import pictures
from rigbook.text.pictures import find_picture


@pytest.fixture
def root(tmp_path: Path) -> Path:
    root = tmp_path / "repository"
    (root / "shows").mkdir(parents=True)
    (root / ".git").mkdir()
    for name in ("stage.png", "shows/stage.JPG", ".git/stage.png", "../outside.png", "notes.txt"):
        (root / name).write_bytes(b"picture")
    return root


def test_from_the_folder_of_the_plan(root: Path) -> None:
    assert find_picture(root, "shows", "stage.JPG") == root / "shows/stage.JPG"
    assert find_picture(root, "shows", "../stage.png") == root / "stage.png"


@pytest.mark.parametrize(
    "path",
    [
        "none.png",
        "STAGE.png",
        "../outside.png",
        "notes.txt",
        ".git/stage.png",
        ".",
        "",
        "/etc/passwd",
        "a" * 5000 + ".png",
        "a\0.png",
    ],
)
def test_what_is_no_picture_of_the_repository(root: Path, path: str) -> None:
    assert find_picture(root, "", path) is None


def test_a_link_that_leads_out_and_a_file_too_large(root: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (root / "way-out.png").symlink_to(root.parent / "outside.png")
    assert find_picture(root, "", "way-out.png") is None
    monkeypatch.setattr(pictures, "LARGEST", 3)
    assert find_picture(root, "", "stage.png") is None
