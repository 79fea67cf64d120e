"""Two folders exchange their names in one step, and folders that a killed build left behind are known."""

from __future__ import annotations

import ctypes
import os
import secrets
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Final

LONGEST: Final = 80
"""Letters of a folder's name that its neighbour takes over: a name may hold 255 bytes."""
HERE: Final = -100
"""AT_FDCWD of openat(2): a path from the folder worked in."""
EXCHANGE: Final = 2
"""RENAME_EXCHANGE of renameat2(2)."""


def exchange(one: Path, other: Path) -> bool:
    """Give each the name of the other at once: nobody sees neither there. False where the system cannot do that.

    Source: renameat2(2), Linux 3.15; file systems that cannot do it answer EINVAL.
    """
    if not sys.platform.startswith("linux"):
        return False
    call = getattr(ctypes.CDLL(None), "renameat2", None)
    if call is None:
        return False
    call.argtypes = (ctypes.c_int, ctypes.c_char_p, ctypes.c_int, ctypes.c_char_p, ctypes.c_uint)
    return bool(call(HERE, os.fsencode(one), HERE, os.fsencode(other), EXCHANGE) == 0)


def beside(target: Path) -> Path:
    """A new, empty folder beside one, that others may read as they may read any new folder."""
    fresh = target.with_name(f"{_prefix(target)}{secrets.token_hex(4)}.new")
    fresh.mkdir()
    return fresh


@contextmanager
def held(folder: Path, wait: bool = False) -> Iterator[None]:
    """While it lasts, the folder does not count as forsaken, and who waits for it waits. A killed process lets go."""
    lock = _locked(folder, wait)
    try:
        yield
    finally:
        if lock is not None:
            os.close(lock)


def forsaken(target: Path) -> Iterator[Path]:
    """The folders beside one that were made for it by a build which has ended without taking them away."""
    prefix = _prefix(target)
    for path in sorted(target.parent.iterdir()):
        if path.name.startswith(prefix) and path.suffix in (".new", ".old") and path.is_dir() and not path.is_symlink():
            lock = _locked(path)
            if lock is not None:
                yield path
                os.close(lock)


def _prefix(target: Path) -> str:
    return f".{target.name[:LONGEST]}.rigbook-"


def _locked(folder: Path, wait: bool = False) -> int | None:
    """A lock of a folder; None where somebody has it and is not waited for, or the system knows none."""
    try:
        import fcntl
    except ImportError:
        return None
    try:
        file = os.open(folder, os.O_RDONLY)
    except OSError:
        return None
    try:
        fcntl.flock(file, fcntl.LOCK_EX | (0 if wait else fcntl.LOCK_NB))
    except OSError:
        os.close(file)
        return None
    return file
