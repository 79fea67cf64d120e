"""What comes of a plan rests on the program as it stands on disk, the files that were read, and the walk-test records
beside them; and where what is remembered is kept, in the user's cache folder.
"""

from __future__ import annotations

import hashlib
import json
import os
from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import suppress
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final, NamedTuple

if TYPE_CHECKING:
    from rigbook.checks.compiled import Compiled

PROGRAM: Final = Path(__file__).resolve().parents[1]
ELSEWHERE: Final = frozenset({"missing-file", "path-outside", "missing-picture", "too-large"})
"""Findings that depend on files which were not read, or not to their end."""


class Listing(NamedTuple):
    """All that lies in a folder."""

    name: str
    """Another one after any change to any file of it."""
    newest: int
    """When the last of the changes was, in ns."""


def program() -> str:
    """A name for this program as it stands on disk: another one after any change to any file of it."""
    return listing(PROGRAM).name


def listing(folder: Path) -> Listing:
    """The files of a folder and of those in it, by path, size and the time of their last change."""
    digest, newest = hashlib.sha256(), 0
    todo = [str(folder)]
    while todo:
        with os.scandir(todo.pop()) as found:
            entries = sorted(found, key=lambda e: e.name)
        for entry in entries:
            if entry.name == "__pycache__":
                continue
            if entry.is_symlink():
                digest.update(f"{entry.path}\0{os.path.realpath(entry.path)}\n".encode("utf-8", "surrogateescape"))
            elif entry.is_dir():
                todo.append(entry.path)
            with suppress(FileNotFoundError):  # a link that leads nowhere
                at = entry.stat()
                newest = max(newest, changed_ns(at))
                said = f"{at.st_ctime_ns}\0{at.st_mtime_ns}\0{at.st_size}" if entry.is_file() else ""
                own = f"{entry.path}\0{said}\n"
                digest.update(own.encode("utf-8", "surrogateescape"))
    return Listing(digest.hexdigest(), newest)


def changed_ns(at: os.stat_result) -> int:
    """When a file was last changed, in ns: by the entry, which unlike the content's time cannot be set back, and by the
    content, as some systems say of the entry only when it was made.
    """
    return max(at.st_ctime_ns, at.st_mtime_ns)


def own_files(got: Compiled) -> list[str] | None:
    """The files of a plan, without those of the shipped library; None where what comes of it depends on others, which
    could appear or change without any of these changing: files that are not there, and pictures.
    """
    names = [name for name in got.sources if not name.startswith("gear:")]
    pictures = any("![" in line for name in names for line in got.sources[name].lines)
    said = [*got.findings, *(finding for finding, _ in got.accepted)]
    return None if pictures or any(f.check in ELSEWHERE for f in said) else names


def files(root: Path, names: Iterable[str]) -> Iterator[tuple[str, list[str]]]:
    """Each file with its digest and the walk-test records beside it."""
    for name in names:
        file = root / name
        records = sorted(other for other in os.listdir(file.parent) if other.startswith(f"{file.stem}.walk-"))  # noqa: PTH208 - of a thousand plans in one folder
        beside = [f"{record} {os.path.realpath(file.with_name(record))}" for record in records]
        yield name, [hashlib.sha256(file.read_bytes()).hexdigest(), *beside]


def led(root: Path, bases: Iterable[Sequence[Any]]) -> list[list[Any]]:
    """Where it leads what each file says that it builds on: to another file where a link or a folder is put there."""
    out = []
    for name, text, *_ in bases:
        at = os.path.join((root / name).parent, text)  # noqa: PTH118 - a text that is typed may be no path
        real = os.path.realpath(at)
        out.append([name, text, real, os.path.isdir(real), os.path.realpath(f"{real}.yaml")])  # noqa: PTH112
    return out


def store(kind: str) -> Path | None:
    """The folder of what is remembered; None where there is to be no cache (`RIGBOOK_CACHE=off`)."""
    if os.environ.get("RIGBOOK_CACHE") == "off":
        return None
    return Path(os.environ.get("XDG_CACHE_HOME") or "~/.cache").expanduser() / "rigbook" / kind


def put(target: Path, body: Mapping[str, Any]) -> None:
    """Remember something. A cache that cannot be written is no fault."""
    fresh = target.with_suffix(f".{os.getpid()}")
    try:
        target.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
        fresh.write_text(json.dumps(body), "utf-8")
        fresh.replace(target)
    except OSError:
        return
