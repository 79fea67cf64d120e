"""Writing: whole or not at all; nothing of others is ever replaced."""

from __future__ import annotations

import signal
import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor
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
    monkeypatch.setattr(module, "exchange", lambda one, other: False)
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


def test_without_an_exchange_the_next_one_is_written_too(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(module, "exchange", lambda one, other: False)
    write(OLD, tmp_path / "site")
    write(NEW, tmp_path / "site")
    assert set(contents(tmp_path / "site")) == {*NEW, MARKER}
    assert [p.name for p in tmp_path.iterdir()] == ["site"]


@pytest.mark.parametrize("name", ["plan.yaml", ".git/HEAD", "static/own.css", "link"])
def test_what_others_laid_into_a_handbook_is_never_deleted(name: str, tmp_path: Path) -> None:
    site = tmp_path / "site"
    write(OLD, site)
    (site / name).parent.mkdir(exist_ok=True)
    if name == "link":
        (site / name).symlink_to("/etc")
    else:
        (site / name).write_text("ten years")
    before = contents(site)
    with pytest.raises(WriteError, match=name):
        write(NEW, site)
    assert contents(site) == before


def test_what_a_file_manager_left_is_no_reason(tmp_path: Path) -> None:
    write(OLD, tmp_path / "site")
    (tmp_path / "site" / "static" / ".DS_Store").write_bytes(b"x")
    write(NEW, tmp_path / "site")
    assert set(contents(tmp_path / "site")) == {*NEW, MARKER}


@pytest.mark.parametrize("name", ["x" * 300, "a\0b", "\ud800\udc00x"])
def test_names_that_no_disk_can_hold(name: str, tmp_path: Path) -> None:
    with pytest.raises(WriteError):
        write(NEW, tmp_path / name)


def test_a_long_name_has_room_for_its_neighbour(tmp_path: Path) -> None:
    write(OLD, tmp_path / ("x" * 250))
    write(NEW, tmp_path / ("x" * 250))
    assert len(list(tmp_path.iterdir())) == 1


def test_a_ring_of_links_is_no_folder(tmp_path: Path) -> None:
    (tmp_path / "ring").symlink_to("ring")
    with pytest.raises(WriteError):
        write(NEW, tmp_path / "ring")


KILLED = """
import os, signal, sys
from pathlib import Path
from rigbook.handbook.write import write
kept = Path.write_bytes
def dies(self, data):
    if self.name == "b.css":
        os.kill(os.getpid(), signal.SIGKILL)
    return kept(self, data)
Path.write_bytes = dies
write({"index.html": b"new", "b.css": b"x"}, Path(sys.argv[1]))
"""


def test_a_killed_build_leaves_the_old_one_and_the_next_tidies_up(tmp_path: Path) -> None:
    site = tmp_path / "site"
    write(OLD, site)
    before = contents(site)
    assert subprocess.run([sys.executable, "-c", KILLED, str(site)], check=False).returncode == -signal.SIGKILL
    assert contents(site) == before
    assert len(list(tmp_path.iterdir())) == 2
    (tmp_path / ".site.rigbook-notes.old").mkdir()  # somebody else's, by its look
    write(NEW, site)
    assert sorted(p.name for p in tmp_path.iterdir()) == [".site.rigbook-notes.old", "site"]


@pytest.mark.parametrize("exchanged", [True, False])
def test_builds_at_the_same_time_leave_one_whole(
    exchanged: bool, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    if not exchanged:
        monkeypatch.setattr(module, "exchange", lambda one, other: False)
    sites = [{f"{n}.html": b"x" * 1000, "static/a.css": bytes([n]) * 1000} for n in range(8)]

    def many(n: int) -> None:
        for _ in range(12):
            write(sites[n], tmp_path / "site")

    with ThreadPoolExecutor(8) as pool:
        list(pool.map(many, range(8)))
    there = contents(tmp_path / "site")
    del there[MARKER]
    assert there in sites
    assert [p.name for p in tmp_path.iterdir()] == ["site"]


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
