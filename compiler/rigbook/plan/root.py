"""The folder that a plan may read from. A module of its own, so that asking for it loads nothing else."""

from __future__ import annotations

from pathlib import Path

from rigbook.text.disk import is_there, resolved


def root_of(path: Path) -> Path:
    """The repository root of a plan: the nearest folder above it that holds `.git`; else the folder worked in, if
    the plan lies below it; else the plan's own folder. Plans never read outside it.
    """
    start = (resolved(path) or path.absolute()).parent
    for folder in (start, *start.parents):
        if is_there(folder / ".git"):
            return folder
    here = Path.cwd().resolve()
    return here if here == start or here in start.parents else start
