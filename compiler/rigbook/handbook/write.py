"""Files to a folder, whole or not at all: written beside it first, then put in its place."""

from __future__ import annotations

import os
import shutil
from collections.abc import Mapping
from pathlib import Path
from typing import Final

MARKER: Final = "rigbook-site.txt"
"""Says that a folder was written by rigbook, so that the next build may replace it."""
MARK: Final = b"This folder was written by rigbook. The next build replaces all of it.\n"


class WriteError(Exception):
    """The handbook was not written; the folder is as it was. The message says why and what to do."""


def write(files: Mapping[str, bytes], out: Path) -> None:
    """Write a handbook. WriteError, with the old folder untouched, where that cannot be."""
    target = out.resolve()
    refusal = refused(target)
    if refusal:
        raise WriteError(refusal)
    fresh = target.with_name(f".{target.name}.{os.getpid()}.new")
    try:
        target.parent.mkdir(parents=True, exist_ok=True)
        _fill(fresh, {**files, MARKER: MARK})
        _swap(fresh, target)
    except OSError as error:
        raise WriteError(f"`{out}` was not written: {error.strerror or error}") from error
    finally:
        shutil.rmtree(fresh, ignore_errors=True)


def refused(target: Path) -> str:
    """Why a folder may not be replaced; empty where it may."""
    if not target.exists():
        return ""
    if not target.is_dir():
        return f"`{target.name}` is a file; name a folder for the handbook"
    if (target / MARKER).is_file() or not any(target.iterdir()):
        return ""
    return f"`{target.name}` holds files that rigbook did not write; name a new or an empty folder for the handbook"


def _fill(folder: Path, files: Mapping[str, bytes]) -> None:
    folder.mkdir()
    made = {""}
    for name, data in files.items():
        above = name.rpartition("/")[0]
        if above not in made:
            (folder / above).mkdir(parents=True, exist_ok=True)
            made.add(above)
        (folder / name).write_bytes(data)


def _swap(fresh: Path, target: Path) -> None:
    """Put `fresh` where `target` is. Should the second step fail, the first is taken back."""
    old = target.with_name(f".{target.name}.{os.getpid()}.old")
    there = target.exists()
    if there:
        target.rename(old)
    try:
        fresh.rename(target)
    except OSError:
        if there:
            old.rename(target)
        raise
    shutil.rmtree(old, ignore_errors=True)
