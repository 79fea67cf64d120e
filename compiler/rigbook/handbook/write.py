"""Files to a folder, whole or not at all: written beside it first, then put in its place."""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator, Mapping
from contextlib import ExitStack
from pathlib import Path
from typing import Final

from rigbook.handbook.swap import beside, exchange, forsaken, held

MARKER: Final = "rigbook-site.txt"
"""Says that a folder was written by rigbook, and which files of it, so that the next build may replace it."""
MARK: Final = "This folder was written by rigbook. The next build replaces all of these files:\n"
STRAY: Final = frozenset({".DS_Store", "Thumbs.db", "desktop.ini"})
"""What file managers leave in every folder that somebody looks at."""
SHOWN: Final = 3
"""Files of others that are named."""


class WriteError(Exception):
    """The handbook was not written; the folder is as it was. The message says why and what to do."""


def write(files: Mapping[str, bytes], out: Path) -> None:
    """Write a handbook. WriteError, with the old folder untouched, where that cannot be."""
    fresh: Path | None = None
    try:
        target = out.resolve()
        target.parent.mkdir(parents=True, exist_ok=True)
        with ExitStack() as own:
            with held(target.parent, wait=True):
                _may(target)
                for left in forsaken(target):
                    if (left / MARKER).is_file():
                        shutil.rmtree(left, ignore_errors=True)
                # made and taken hold of before another build looks for what is forsaken, which it does behind this lock
                fresh = beside(target)
                own.enter_context(held(fresh))
            _fill(fresh, {MARKER: marker(files), **files})
            with held(target.parent, wait=True):
                _may(target)
                _swap(fresh, target)
    except (OSError, ValueError, RuntimeError) as error:
        raise WriteError(f"`{out}` was not written: {getattr(error, 'strerror', None) or error}") from error
    finally:
        if fresh is not None:
            shutil.rmtree(fresh, ignore_errors=True)


def _may(target: Path) -> None:
    """WriteError where a folder may not be replaced. Its parent is held: no other build replaces it meanwhile."""
    refusal = refused(target)
    if refusal:
        raise WriteError(refusal)


def marker(files: Mapping[str, bytes]) -> bytes:
    """The text of the marker of a handbook."""
    return (MARK + "".join(f"{name}\n" for name in sorted(files))).encode()


def refused(target: Path) -> str:
    """Why a folder may not be replaced; empty where it may."""
    if not target.exists():
        return ""
    if not target.is_dir():
        return f"`{target.name}` is a file; name a folder for the handbook"
    there = tuple(_files(target))
    if not there:
        return ""
    name = target.name or str(target)
    if MARKER not in there:
        return f"`{name}` holds files that rigbook did not write; name a new or an empty folder for the handbook"
    head, *own = (target / MARKER).read_text("utf-8", "replace").split("\n")
    others = sorted({*there} - {*own, MARKER}) if f"{head}\n" == MARK else []
    if others:
        more = f" and {len(others) - SHOWN} more" if len(others) > SHOWN else ""
        shown = ", ".join(f"`{other}`" for other in others[:SHOWN])
        return f"`{name}` holds {shown}{more}, which rigbook did not write; move that elsewhere, or name another folder"
    return ""


def _files(folder: Path) -> Iterator[str]:
    """Everything in a folder but folders, by its name from there; links are not followed."""
    for at, folders, files in os.walk(folder, onerror=_stop):
        here = Path(at)
        names = [*files, *(f for f in folders if (here / f).is_symlink())]
        yield from ((here / n).relative_to(folder).as_posix() for n in names if n not in STRAY)


def _stop(error: OSError) -> None:
    raise error


def _fill(folder: Path, files: Mapping[str, bytes]) -> None:
    made = {""}
    for name, data in files.items():
        above = name.rpartition("/")[0]
        if above not in made:
            (folder / above).mkdir(parents=True, exist_ok=True)
            made.add(above)
        (folder / name).write_bytes(data)


def _swap(fresh: Path, target: Path) -> None:
    """Put `fresh` where `target` is; what was there, if anything, is then where `fresh` was."""
    if not target.exists():
        try:
            fresh.rename(target)
            return
        except OSError:
            if not target.exists():
                raise
            # another build has written there meanwhile
    if exchange(fresh, target):
        return
    # where the system cannot exchange two folders: should the second step fail, the first is taken back
    old = fresh.with_suffix(".old")
    target.rename(old)
    try:
        fresh.rename(target)
    except OSError:
        if not target.exists():
            old.rename(target)
        raise
    shutil.rmtree(old, ignore_errors=True)
