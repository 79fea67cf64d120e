"""Two folders exchange their names: renameat2(2), and what is left behind by a process that was ended."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

from rigbook.handbook.swap import beside, exchange, forsaken, held


@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="renameat2 is Linux's")
def test_an_exchange(tmp_path: Path) -> None:
    for name in ("one", "other"):
        (tmp_path / name).mkdir()
        (tmp_path / name / "said").write_text(name)
    if exchange(tmp_path / "one", tmp_path / "other"):  # some file systems cannot
        assert [(tmp_path / name / "said").read_text() for name in ("one", "other")] == ["other", "one"]
    assert not exchange(tmp_path / "one", tmp_path / "nothing")


@pytest.mark.skipif(sys.platform == "win32", reason="no locks of folders there")
def test_a_folder_in_use_is_not_forsaken(tmp_path: Path) -> None:
    fresh = beside(tmp_path / "site")
    with held(fresh):
        assert list(forsaken(tmp_path / "site")) == []
    assert list(forsaken(tmp_path / "site")) == [fresh]
    assert list(forsaken(tmp_path / "si")) == []
