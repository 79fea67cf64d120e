"""The handbooks of many plans in one run: a folder with a handbook each, and a page that lists them.

Each handbook is replaced whole or not at all, and the list is written last. Plans share nothing while they are built,
so that several processes give the same bytes as one.
"""

from __future__ import annotations

import argparse
import gc
import sys
from collections import Counter
from collections.abc import Generator, Iterable, Mapping, Sequence
from contextlib import closing
from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING, Final

from rigbook.commands.build import Told, build_one, forks, same, tell
from rigbook.commands.common import coloured, complain, cores, uncollected
from rigbook.commands.unchanged import keep_list, listed

if TYPE_CHECKING:
    from rigbook.commands.unchanged import Ground
    from rigbook.handbook.themes import Theme

Task = tuple[Path, Path]
"""A plan, and the folder of its handbook."""
KEPT: Final = ("static", "icons")
"""Folders beside the handbooks."""


def build_all(paths: Sequence[Path], args: argparse.Namespace, ground: Ground | None) -> int:
    """Build every plan into a folder of its own below `--out`, print what there is to say of each in the order of the
    plans, and list them. The exit code is the worst of all. What need not be made again is left as it is.
    """
    if args.jobs < 0:
        print("`--jobs` is a number of processes that build, 0 for as many as there are cores", file=sys.stderr)
        return 2
    tasks = list(zip(paths, (args.out / name for name in names(paths))))
    colour = coloured(sys.stdout)
    known = {out: told for path, out in tasks if (told := same(ground, path, out, colour))}
    if len(known) == len(tasks) and _stands(ground, args.out, known.values()):
        code = max(tell(told) for told in known.values())
        return _told(code, [told.leaf[1] for told in known.values()], args.out)
    from concurrent.futures.process import BrokenProcessPool

    from rigbook.handbook.sites import SitesError
    from rigbook.handbook.themes import ThemeError

    try:
        return _make(tasks, known, args, ground)
    except (SitesError, ThemeError) as error:
        complain(error)
    except BrokenProcessPool:
        print("a process was ended from outside; the list of handbooks was not written", file=sys.stderr)
    return 2


def _make(
    tasks: Sequence[Task], known: Mapping[Path, Told], args: argparse.Namespace, ground: Ground | None
) -> int:
    """Build what is not known to stand, and the list of all."""
    from rigbook.handbook.sites import MARK, MARKER, Leaf, index, prepare, write_index

    theme = _theme(args.theme)
    code, leaves = 0, []
    prepare(args.out, args.view, theme)
    with closing(_built(tasks, known, args, ground)) as every:
        for told in every:
            code = max(code, tell(told))
            leaves.append(Leaf(*told.leaf))
    files = index(leaves, args.view, theme, args.language)
    write_index(files, args.out)
    if ground is not None:
        keep_list(ground, args.out, leaves, theme, {MARKER: MARK, **files})
    return _told(code, [leaf.href for leaf in leaves], args.out)


def _stands(ground: Ground | None, out: Path, every: Iterable[Told]) -> bool:
    """True where the list of handbooks, and the marker of their folder, are as they were written."""
    return ground is not None and listed(ground, out, [told.leaf for told in every])


def _told(code: int, places: Sequence[str], out: Path) -> int:
    made = sum(bool(place) for place in places)
    print(f"{made} of {len(places)} plans have a handbook in {out}, open {out / 'index.html'}")
    return code


def names(paths: Sequence[Path]) -> list[str]:
    """A folder for each plan: the name of its file, after that of its folder where two are called alike."""
    stems = Counter([p.stem for p in paths] + list(KEPT))
    out = [p.stem if stems[p.stem] == 1 else f"{p.resolve().parent.name}-{p.stem}" for p in paths]
    seen: Counter[str] = Counter()
    for i, name in enumerate(out):
        seen[name] += 1
        out[i] = name if seen[name] == 1 else f"{name}-{seen[name]}"
    return out


def _built(
    tasks: Sequence[Task], known: Mapping[Path, Told], args: argparse.Namespace, ground: Ground | None
) -> Generator[Told, None, None]:
    """What came of each plan, in order."""
    todo = [task for task in tasks if task[1] not in known]
    jobs = min(args.jobs or cores(), len(todo))
    colour = coloured(sys.stdout)
    if jobs < 2:
        for path, out in tasks:
            # of a single plan, a second process may make a part
            helped = len(todo) == 1 and forks(args)
            yield known.get(out) or _one(path, out, args, colour, ground, helped)
        return
    from concurrent.futures import ProcessPoolExecutor
    from multiprocessing import get_all_start_methods, get_context

    # a fork shares all that `prepare` has loaded; what stays is no garbage, and is not written to by looking for it
    way = "fork" if sys.platform.startswith("linux") and "fork" in get_all_start_methods() else "spawn"
    gc.collect()
    gc.freeze()
    with ProcessPoolExecutor(jobs, get_context(way)) as pool:
        waiting = {out: pool.submit(_one, path, out, args, colour, ground) for path, out in todo}
        for _, out in tasks:
            yield known.get(out) or waiting[out].result()


def _one(
    path: Path, out: Path, args: argparse.Namespace, colour: bool, ground: Ground | None, helped: bool = False
) -> Told:
    """One plan. What it was made of is looked through for garbage when all of it is gone, not while it is there."""
    with uncollected():
        return build_one(path, out, _theme(args.theme), args, colour, ground, helped)


@lru_cache(maxsize=1)
def _theme(name: str) -> Theme:
    """The theme, read once in each process: forked ones have it from the beginning."""
    from rigbook.handbook.themes import find_theme

    return find_theme(name)
