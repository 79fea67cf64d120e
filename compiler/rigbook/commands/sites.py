"""The handbooks of many plans in one run: a folder with a handbook each, and a page that lists them.

Each handbook is replaced whole or not at all, and the list is written last. Plans share nothing while they are built,
so that several processes give the same bytes as one.
"""

from __future__ import annotations

import argparse
import gc
import sys
from collections import Counter
from collections.abc import Generator, Sequence
from concurrent.futures.process import BrokenProcessPool
from contextlib import closing
from functools import lru_cache
from pathlib import Path
from typing import Final

from rigbook.commands.build import Told, build_one, tell
from rigbook.commands.common import coloured, complain, cores, uncollected
from rigbook.handbook.sites import SitesError, index, prepare, write_index
from rigbook.handbook.themes import Theme, ThemeError, find_theme

KEPT: Final = ("static", "icons")
"""Folders beside the handbooks."""


def build_all(paths: Sequence[Path], theme: Theme, args: argparse.Namespace) -> int:
    """Build every plan into a folder of its own below `--out`, print what there is to say of each in the order of the
    plans, and list them. The exit code is the worst of all.
    """
    if args.jobs < 0:
        print("`--jobs` is a number of processes that build, 0 for as many as there are cores", file=sys.stderr)
        return 2
    tasks = list(zip(paths, (args.out / name for name in names(paths))))
    code, leaves = 0, []
    try:
        prepare(args.out, args.view, _theme(args.theme))
        with closing(_built(tasks, args)) as every:
            for told in every:
                code = max(code, tell(told))
                leaves.append(told.leaf)
        write_index(index(leaves, args.view, theme, args.language), args.out)
    except (SitesError, ThemeError) as error:
        complain(error)
        return 2
    except BrokenProcessPool:
        print("a process was ended from outside; the list of handbooks was not written", file=sys.stderr)
        return 2
    made = sum(bool(leaf.href) for leaf in leaves)
    print(f"{made} of {len(paths)} plans have a handbook in {args.out}, open {args.out / 'index.html'}")
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


def _built(tasks: Sequence[tuple[Path, Path]], args: argparse.Namespace) -> Generator[Told, None, None]:
    """What came of each plan, in order."""
    jobs = min(args.jobs or cores(), len(tasks))
    colour = coloured(sys.stdout)
    if jobs == 1:
        for path, out in tasks:
            yield _one(path, out, args, colour)
        return
    from concurrent.futures import ProcessPoolExecutor
    from multiprocessing import get_all_start_methods, get_context

    # a fork shares all that `prepare` has loaded; what stays is no garbage, and is not written to by looking for it
    way = "fork" if sys.platform.startswith("linux") and "fork" in get_all_start_methods() else "spawn"
    gc.collect()
    gc.freeze()
    with ProcessPoolExecutor(jobs, get_context(way)) as pool:
        waiting = [pool.submit(_one, path, out, args, colour) for path, out in tasks]
        for future in waiting:
            yield future.result()


def _one(path: Path, out: Path, args: argparse.Namespace, colour: bool) -> Told:
    """One plan. What it was made of is looked through for garbage when all of it is gone, not while it is there."""
    with uncollected():
        return build_one(path, out, _theme(args.theme), args, colour)


@lru_cache(maxsize=1)
def _theme(name: str) -> Theme:
    """The theme, read once in each process: forked ones have it from the beginning."""
    return find_theme(name)
