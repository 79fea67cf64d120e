"""Files on disk, whatever stands there: a pipe, a device, a ring of links, a name that no disk can hold. Nothing waits,
nothing raises anything but OSError, and no more is read than was asked for.
"""

from __future__ import annotations

import errno
import os
import stat
from pathlib import Path


def take(path: Path, most: int) -> tuple[bytes, int]:
    """The first `most` bytes of a plain file, and its size. OSError where it cannot be read or is no plain file."""
    try:
        found = path.stat()
        if not stat.S_ISREG(found.st_mode):
            raise OSError(errno.EINVAL, "no plain file")
        with path.open("rb") as file:
            return file.read(most), found.st_size
    except ValueError as error:  # a zero or half a letter in the name
        raise OSError(errno.EINVAL, str(error)) from None


def whole(path: Path) -> bytes | None:
    """All bytes of a plain file; None where it cannot be read."""
    try:
        size = take(path, 0)[1]
        return take(path, size)[0]
    except OSError:
        return None


def resolved(path: Path) -> Path | None:
    """The path without links; None where it leads in a ring, or no disk can hold such a name."""
    try:
        return path.resolve()
    except (OSError, ValueError, RuntimeError):
        return None


def is_file(path: Path) -> bool:
    """True of a plain file; unlike `Path.is_file`, False too where the folder may not be looked into."""
    return os.path.isfile(path)  # noqa: PTH113 - the method raises for a name that is too long


def is_folder(path: Path) -> bool:
    """True of a folder that can be seen."""
    return os.path.isdir(path)  # noqa: PTH112


def is_there(path: Path) -> bool:
    """True of anything that can be seen."""
    return os.path.exists(path)  # noqa: PTH110


def inside(folder: Path) -> list[Path]:
    """What lies in a folder, in order; nothing where it cannot be looked into."""
    try:
        return sorted(folder.iterdir())
    except (OSError, ValueError):
        return []
