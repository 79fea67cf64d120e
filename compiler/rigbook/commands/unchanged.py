"""Handbooks that need not be made again: their folder holds, byte for byte, what this build would write.

Of each build it is remembered, in the user's cache folder, what it rested on and a digest of what it wrote. Nothing of
that is in the handbook. A build is left out only where all that it rests on is as it was: the program and the libraries
around it, the options, every file of the plan, what they build on, the walk-test records beside them, the folders of
the theme; and where every file of the handbook is as it was written, and no other lies there. Builds that rest on more
are always made: with pictures, which are found by notes; with `--since`, as a revision may move; with `--pdf`, which
uses fonts of the machine.
"""

from __future__ import annotations

import argparse
import hashlib
import json
import os
import sys
import time
from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

from rigbook.commands.rests_on import Listing, changed_ns, files, led, listing, own_files, program, put, store
from rigbook.plan.root import root_of
from rigbook.records import field, frozen

if TYPE_CHECKING:
    from rigbook.checks.compiled import Compiled
    from rigbook.handbook.themes import Theme

STORE: Final = "handbooks"
SETTLED_NS: Final = 20_000_000
"""Clocks of file systems tick as slowly as this: what changed within it before a run may change again unseen."""
STRAY: Final = frozenset({".DS_Store", "Thumbs.db", "desktop.ini"})
"""What file managers leave in every folder that somebody looks at."""


@frozen
class Ground:
    """What all builds of a run rest on."""

    home: Path
    program: str
    options: tuple[str, ...]
    began: int
    """When the run began, in ns; what has changed since is not remembered."""
    themes: dict[str, Listing] = field(default_factory=dict)
    """By folder of a theme: its listing."""

    @staticmethod
    def of(args: argparse.Namespace) -> Ground | None:
        """The ground of a run with these options; None where nothing of it is remembered."""
        home = store(STORE)
        if home is None or args.since or args.pdf:
            return None
        began = time.time_ns()
        said = (args.view, args.theme, args.language, args.data, args.paper, args.strict, args.fail_on)
        return Ground(home, _installed(), (str(Path.cwd()), *map(str, said)), began)

    def place(self, *of: object) -> Path:
        """Where something is remembered that differs by these."""
        text = json.dumps([*map(str, of), *self.options])
        return self.home / (hashlib.sha256(text.encode("utf-8", "surrogateescape")).hexdigest()[:32] + ".json")

    def folders(self, names: Iterable[str]) -> dict[str, str]:
        """What lies in the folders of a theme."""
        out = {}
        for name in names:
            if name not in self.themes:
                self.themes[name] = listing(Path(name))
            out[name] = self.themes[name].name
        return out

    def settled(self, changes: Iterable[int]) -> bool:
        """True where the last of some changes was before the run."""
        return max(changes, default=0) < self.began - SETTLED_NS


def recall(ground: Ground, path: Path, out: Path, colour: bool) -> dict[str, Any] | None:
    """What was told of the build of a plan that need not be made again; None where it is to be made."""
    root = root_of(path).resolve()
    try:
        kept = json.loads(ground.place(path.resolve(), root, out, colour).read_bytes())
        rests = kept["rests"]
        now = _rests(ground, root, rests["files"], rests["bases"], rests["themes"])
        if json.loads(json.dumps(now)) == rests and on_disk(out) == kept["written"]:
            return dict(kept["told"])
    except (OSError, ValueError, KeyError, TypeError):
        pass
    return None


def keep(
    ground: Ground, path: Path, out: Path, colour: bool, got: Compiled, theme: Theme,
    made: Mapping[str, bytes], told: Mapping[str, Any],
) -> None:  # fmt: skip
    """Remember a build, where that can be: what it wrote and what was told of it."""
    names = own_files(got)
    if names is None or any(name.startswith("pictures/") for name in made):
        return
    try:
        rests = _rests(ground, got.root, names, got.bases, [str(folder) for _, folder in theme.layers])
        changes = [changed_ns((got.root / name).stat()) for name in names]
        if ground.settled([*changes, *(newest for _, newest in ground.themes.values())]):
            body = {"rests": rests, "written": in_memory(made), "told": told}
            put(ground.place(path.resolve(), got.root, out, colour), body)
    except OSError:
        return


def listed(ground: Ground, out: Path, leaves: Sequence[Sequence[str]]) -> bool:
    """True where the list of some handbooks stands as it was written."""
    try:
        kept = json.loads(ground.place("list", out).read_bytes())
        rests = [ground.program, [list(leaf) for leaf in leaves], ground.folders(kept["rests"][2])]
        return bool(kept["rests"] == rests and kept["written"] == _some(out, kept["names"]))
    except (OSError, ValueError, KeyError, TypeError, IndexError):
        return False


def keep_list(
    ground: Ground, out: Path, leaves: Sequence[Sequence[str]], theme: Theme, made: Mapping[str, bytes]
) -> None:
    """Remember the list of some handbooks."""
    try:
        rests = [ground.program, [list(leaf) for leaf in leaves], ground.folders(str(f) for _, f in theme.layers)]
        if ground.settled(newest for _, newest in ground.themes.values()):
            put(ground.place("list", out), {"rests": rests, "written": in_memory(made), "names": sorted(made)})
    except OSError:
        return


def _some(folder: Path, names: Iterable[str]) -> str:
    """A digest of some files of a folder."""
    return _digest({name: hashlib.sha256((folder / name).read_bytes()).hexdigest() for name in names})


def _rests(
    ground: Ground, root: Path, names: Iterable[str], bases: Iterable[tuple[str, str]], themes: Iterable[str]
) -> dict[str, Any]:
    """What a build rests on, as it is now."""
    return {
        "program": ground.program,
        "files": dict(files(root, names)),
        "bases": led(root, bases),
        "themes": ground.folders(themes),
    }


def in_memory(made: Mapping[str, bytes]) -> str:
    """A digest of files by name."""
    return _digest({name: hashlib.sha256(data).hexdigest() for name, data in made.items()})


def on_disk(folder: Path) -> str:
    """The same of a folder with all that it holds; what is no plain file, and an empty folder, makes another one."""
    found: dict[str, str] = {}
    for at, folders, names in os.walk(folder, onerror=_stop):
        here = Path(at)
        for name in (*names, *(f for f in folders if (here / f).is_symlink())):
            file = here / name
            if name not in STRAY:
                plain = file.is_file() and not file.is_symlink()
                found[file.relative_to(folder).as_posix()] = (
                    hashlib.sha256(file.read_bytes()).hexdigest() if plain else "other"
                )
        if not names and not folders:
            found[f"{here.relative_to(folder).as_posix()}/"] = "empty"
    return _digest(found)


def _stop(error: OSError) -> None:
    raise error


def _digest(found: Mapping[str, str]) -> str:
    return hashlib.sha256("\n".join(f"{name}\0{said}" for name, said in sorted(found.items())).encode()).hexdigest()


def _installed() -> str:
    """A name for the program and for what is installed around it: Python, and each library with its version."""
    digest = hashlib.sha256(f"{program()}\n{sys.version}\n".encode())
    for folder in sys.path:
        if os.path.isdir(folder):  # noqa: PTH112
            known = sorted(name for name in os.listdir(folder) if name.endswith((".dist-info", ".egg-info")))  # noqa: PTH208
            digest.update("\n".join([folder, *known, ""]).encode("utf-8", "surrogateescape"))
    return digest.hexdigest()
