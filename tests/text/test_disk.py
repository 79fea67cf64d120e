"""What stands on a disk is looked at without waiting and without a traceback."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from rigbook.text.disk import inside, is_file, is_folder, is_there, resolved, take, whole

ODD = ("a" * 300, "a/" * 3000, "a\0b", "\ud800", "")


@pytest.mark.parametrize("name", ODD)
def test_odd_names_are_no_files(name: str, tmp_path: Path) -> None:
    path = tmp_path / name
    assert not is_file(path)
    assert inside(tmp_path / name / "x") == []
    assert whole(path) is None
    with pytest.raises(OSError):
        take(path, 10)
    if name:
        assert not is_there(path)
        assert not is_folder(path)


def test_a_ring_of_links_leads_nowhere(tmp_path: Path) -> None:
    (tmp_path / "a").symlink_to(tmp_path / "b")
    (tmp_path / "b").symlink_to(tmp_path / "a")
    assert resolved(tmp_path / "a") is None
    assert not is_file(tmp_path / "a")


def test_no_more_is_read_than_asked_for(tmp_path: Path) -> None:
    file = tmp_path / "sparse"
    with file.open("wb") as made:
        made.truncate(5_000_000_000)
    assert take(file, 4) == (b"\0\0\0\0", 5_000_000_000)


def test_a_pipe_and_a_device_are_no_plain_files(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe")
    for path in (tmp_path / "pipe", Path("/dev/zero"), tmp_path):
        with pytest.raises(OSError):
            take(path, 10)
