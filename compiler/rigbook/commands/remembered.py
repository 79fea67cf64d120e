"""What `check` said of the same files before, kept in the user's cache folder.

It holds for the same program (each of its files unchanged on disk), the same root, the same bytes in every file that
was read, found by the same way, and the same walk-test records beside them. A plan that asks for a file that is not
there, or whose notes show pictures, is never remembered: what it needs could appear without any of its files changing.
"""

from __future__ import annotations

import hashlib
from pathlib import Path
from typing import TYPE_CHECKING, Final, NamedTuple

from rigbook.commands.rests_on import files, led, own_files, program, put, store

if TYPE_CHECKING:
    from rigbook.checks.compiled import Compiled

STORE: Final = "findings"


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

    home = store(STORE)
    if home is None:
        return None
    try:
        kept = json.loads((home / _key(path, root, colour)).read_bytes())
        if kept["program"] != program() or kept["files"] != dict(files(root, kept["files"])):
            return None
        if kept["bases"] != led(root, kept["bases"]):
            return None
        return Said(kept["text"], kept["worst"], kept["readable"])
    except (OSError, ValueError, KeyError, TypeError):
        return None


def keep(path: Path, got: Compiled, colour: bool, said: Said) -> None:
    """Remember what was said of a plan, where that can be. A cache that cannot be written is no fault."""
    home, names = store(STORE), own_files(got)
    if home is None or names is None:
        return
    body = {"program": program(), "files": dict(files(got.root, names)), "bases": led(got.root, got.bases)}
    put(home / _key(path, got.root, colour), body | said._asdict())


def _key(path: Path, root: Path, colour: bool) -> str:
    return hashlib.sha256(f"{path.resolve()}\0{root}\0{colour}".encode()).hexdigest()[:32] + ".json"
