"""What `check` said of the same files before, kept in the user's cache folder.

It holds for the same program (each of its files unchanged on disk), the same root, the same bytes in every file that
was read, and the same walk-test records beside them. A plan that asks for a file that is not there, or whose notes show
pictures, is never remembered: what it needs could appear without any of its files changing.
"""

from __future__ import annotations

import hashlib
import os
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final, NamedTuple

if TYPE_CHECKING:
    from rigbook.checks.compiled import Compiled

PROGRAM: Final = Path(__file__).resolve().parents[1]
ELSEWHERE: Final = frozenset({"missing-file", "path-outside", "missing-picture", "too-large"})
"""Findings that depend on files which were not read, or not to their end."""


class Said(NamedTuple):
    """What was printed of a plan."""

    text: str
    worst: str
    """Severity of the worst finding, in a word; empty where there is none."""
    readable: bool
    """False where there was no plan in the file."""


def recall(path: Path, root: Path, colour: bool) -> Said | None:
    """What was said of a plan, if nothing that it rests on has changed since; else None."""
    import json

    home = _home()
    if home is None:
        return None
    try:
        kept = json.loads((home / _key(path, root, colour)).read_bytes())
        if kept["program"] != program() or kept["files"] != dict(_files(root, kept["files"])):
            return None
        return Said(kept["text"], kept["worst"], kept["readable"])
    except (OSError, ValueError, KeyError, TypeError):
        return None


def keep(path: Path, got: Compiled, colour: bool, said: Said) -> None:
    """Remember what was said of a plan, where that can be. A cache that cannot be written is no fault."""
    import json

    home = _home()
    names = [name for name in got.sources if not name.startswith("gear:")]
    pictures = any("![" in line for name in names for line in got.sources[name].lines)
    if home is None or pictures or any(f.check in ELSEWHERE for f in got.findings):
        return
    body = {"program": program(), "files": dict(_files(got.root, names)), **said._asdict()}
    target = home / _key(path, got.root, colour)
    fresh = target.with_suffix(f".{os.getpid()}")
    try:
        home.mkdir(parents=True, exist_ok=True, mode=0o700)
        fresh.write_text(json.dumps(body), "utf-8")
        fresh.replace(target)
    except OSError:
        return


def program() -> str:
    """A name for this program as it stands on disk: another one after any change to any file of it."""
    digest = hashlib.sha256()
    todo = [str(PROGRAM)]
    while todo:
        with os.scandir(todo.pop()) as found:
            entries = sorted(found, key=lambda e: e.name)
        for entry in entries:
            if entry.is_dir():
                if entry.name != "__pycache__":
                    todo.append(entry.path)
            elif entry.name.endswith((".py", ".yaml")):
                # the time of the last change of the entry: unlike that of the content it cannot be set back
                at = entry.stat()
                digest.update(f"{entry.path}\0{at.st_ctime_ns}\0{at.st_size}\n".encode())
    return digest.hexdigest()


def _files(root: Path, names: Mapping[str, Any] | list[str]) -> Iterator[tuple[str, list[str]]]:
    """Each file with its digest and the walk-test records beside it."""
    for name in names:
        file = root / name
        beside = sorted(p.name for p in file.parent.iterdir() if p.name.startswith(f"{file.stem}.walk-"))
        yield name, [hashlib.sha256(file.read_bytes()).hexdigest(), *beside]


def _key(path: Path, root: Path, colour: bool) -> str:
    return hashlib.sha256(f"{path.resolve()}\0{root}\0{colour}".encode()).hexdigest()[:32] + ".json"


def _home() -> Path | None:
    """The folder of what is remembered; None where there is to be no cache (`RIGBOOK_CACHE=off`)."""
    if os.environ.get("RIGBOOK_CACHE") == "off":
        return None
    return Path(os.environ.get("XDG_CACHE_HOME") or "~/.cache").expanduser() / "rigbook" / "findings"
