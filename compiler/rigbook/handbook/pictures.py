"""Pictures that notes show, copied under a name made from what they are."""

from __future__ import annotations

import hashlib
from pathlib import Path

from rigbook.handbook.anchors import slug
from rigbook.handbook.picture_data import bare
from rigbook.records import field, frozen
from rigbook.text.pictures import find_picture


@frozen
class Pictures:
    """Collects pictures while pages are made. `files` is what the handbook must hold."""

    root: Path
    files: dict[str, bytes] = field(default_factory=dict)

    def add(self, folder: str, path: str) -> str | None:
        """The address of a picture on a page; None where the repository has no such picture.

        `folder` is that of the plan file, from the root; `path` is as typed, from there.
        """
        file = find_picture(self.root, folder, path)
        if file is None:
            return None
        data = bare(file.read_bytes(), file.suffix.lower())
        digest = hashlib.sha256(data).hexdigest()[:8]
        name = f"pictures/{slug(file.stem).lower() or 'picture'}-{digest}{file.suffix.lower()}"
        self.files[name] = data
        return name
