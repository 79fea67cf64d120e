"""Pictures that notes show: found inside the repository only, copied under a name made from what they are."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass, field
from pathlib import Path
from typing import Final

from rigbook.handbook.anchors import slug

ENDINGS: Final = (".png", ".jpg", ".jpeg", ".gif", ".webp", ".svg")
LARGEST: Final = 20_000_000
"""Bytes. A picture from a phone is a few million; more is a mistake that every reader would have to carry."""


@dataclass(frozen=True)
class Pictures:
    """Collects pictures while pages are made. `files` is what the handbook must hold."""

    root: Path
    files: dict[str, bytes] = field(default_factory=dict)

    def add(self, folder: str, path: str) -> str | None:
        """The address of a picture on a page; None where the repository has no such picture.

        `folder` is that of the plan file, from the root; `path` is as typed, from there. A link on disk that leads
        out of the repository is as good as no picture.
        """
        file = (self.root / folder / path).resolve()
        if file.suffix.lower() not in ENDINGS or not file.is_relative_to(self.root) or not file.is_file():
            return None
        if ".git" in file.relative_to(self.root).parts or file.stat().st_size > LARGEST:
            return None
        data = file.read_bytes()
        name = f"pictures/{slug(file.stem).lower() or 'picture'}-{hashlib.sha256(data).hexdigest()[:8]}{file.suffix.lower()}"
        self.files[name] = data
        return name
