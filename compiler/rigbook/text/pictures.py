"""Which file of the repository a note means by a picture."""

from __future__ import annotations

from pathlib import Path
from typing import Final

ENDINGS: Final = (".png", ".jpg", ".jpeg", ".gif", ".webp", ".svg")
LARGEST: Final = 20_000_000
"""Bytes. A picture from a phone is a few million; more is a mistake that every reader would have to carry."""


def find_picture(root: Path, folder: str, path: str) -> Path | None:
    """The file of a picture; None where the repository has no such picture.

    Args:
        root: the repository.
        folder: that of the plan file, from the root.
        path: as typed, from there.

    A link on disk that leads out of the repository is as good as no picture.
    """
    try:
        file = (root / folder / path).resolve()
        if file.suffix.lower() not in ENDINGS or not file.is_relative_to(root) or not file.is_file():
            return None
        return None if ".git" in file.relative_to(root).parts or file.stat().st_size > LARGEST else file
    except (OSError, ValueError, RuntimeError):  # a name that no disk can hold, or a ring of links
        return None
