"""Writing: whole or not at all; nothing of others is ever replaced."""

from __future__ import annotations

from pathlib import Path

import pytest

from rigbook.handbook import write as module
from rigbook.handbook.write import MARKER, WriteError, write

OLD = {"index.html": b"old", "static/a.css": b"old"}
NEW = {"index.html": b"new", "static/deep/b.css": b"new"}


def contents(folder: Path) -> dict[str, bytes]:
    return {p.relative_to(folder).as_posix(): p.read_bytes() for p in folder.rglob("*") if p.is_file()}


def test_a_handbook_is_written_with_its_mark(tmp_path: Path) -> None:
    write(OLD, tmp_path / "deep" / "site")
    assert set(contents(tmp_path / "deep" / "site")) == {*OLD, MARKER}


def test_the_next_one_replaces_all_of_it(tmp_path: Path) -> None:
    write(OLD, tmp_path / "site")
    write(NEW, tmp_path / "site")
    assert set(contents(tmp_path / "site")) == {*NEW, MARKER}
    assert [p.name for p in tmp_path.iterdir()] == ["site"], "nothing is left beside it"


def test_an_empty_folder_may_be_used(tmp_path: Path) -> None:
    (tmp_path / "site").mkdir()
    write(NEW, tmp_path / "site")
    assert contents(tmp_path / "site")["index.html"] == b"new"


def test_a_folder_of_others_is_refused(tmp_path: Path) -> None:
    (tmp_path / "thesis.txt").write_text("ten years")
    with pytest.raises(WriteError, match="rigbook did not write"):
        write(NEW, tmp_path)
    assert contents(tmp_path) == {"thesis.txt": b"ten years"}


def test_a_file_is_refused(tmp_path: Path) -> None:
    (tmp_path / "site").write_text("a file")
    with pytest.raises(WriteError, match="is a file"):
        write(NEW, tmp_path / "site")


@pytest.mark.parametrize("step", ["write_bytes", "rename", "second rename"])
def test_a_failure_leaves_the_old_one_whole(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, step: str) -> None:
    site = tmp_path / "site"
    write(OLD, site)
    before = contents(site)
    kept, calls = getattr(Path, step.rpartition(" ")[2]), []

    def fails(self: Path, *args: object) -> object:
        calls.append(self)
        if len(calls) == (1 if step == "rename" else 2):
            raise OSError(28, "No space left on device")
        return kept(self, *args)

    monkeypatch.setattr(Path, step.rpartition(" ")[2], fails)
    with pytest.raises(WriteError, match="No space left"):
        write(NEW, site)
    monkeypatch.undo()
    assert contents(site) == before
    assert [p.name for p in tmp_path.iterdir()] == ["site"], "nothing is left beside it"


def test_what_is_written_can_be_read_by_others(tmp_path: Path) -> None:
    """A temporary folder of the system would be closed to a web server."""
    write(NEW, tmp_path / "site")
    (tmp_path / "plain").mkdir()
    assert (tmp_path / "site").stat().st_mode == (tmp_path / "plain").stat().st_mode


def test_a_link_to_a_handbook_stays_a_link(tmp_path: Path) -> None:
    write(OLD, tmp_path / "real")
    (tmp_path / "link").symlink_to(tmp_path / "real")
    module.write(NEW, tmp_path / "link")
    assert (tmp_path / "link").is_symlink()
    assert contents(tmp_path / "real")["index.html"] == b"new"
