"""`rigbook changes`: what changed from an earlier plan, in the trade's words, for a pull request or a van."""

from __future__ import annotations

import argparse
import json
from collections.abc import Iterator
from pathlib import Path
from types import MappingProxyType
from typing import TYPE_CHECKING

from rigbook.commands.common import complain, find_plan
from rigbook.findings.screen import harmless
from rigbook.text.disk import is_there

if TYPE_CHECKING:
    from rigbook.checks.compiled import Compiled
    from rigbook.compute.changes import Change
    from rigbook.graph.rig import Rig

SIGNS = MappingProxyType({"added": "+", "gone": "-", "changed": " "})


def options(parser: argparse.ArgumentParser) -> None:
    """Arguments of the command."""
    parser.add_argument("old", metavar="OLD", help="the earlier plan: a file, a folder, or a git revision (`HEAD~1`)")
    parser.add_argument("new", metavar="NEW", help="the plan as it is now: a file, or a folder with one plan in it")
    parser.add_argument("--format", choices=("text", "json"), default="text", help="text for people, json for machines")


def run(args: argparse.Namespace) -> int:
    """Print what changed. 0: printed, also where nothing did; 2: one of them cannot be read or found."""
    from rigbook.pipeline import compile_plan

    path = find_plan(args.new)
    if path is None:
        return 2
    new = compile_plan(path)
    if new.rig is None:
        complain(f"`{path}` could not be read; `rigbook check` says why")
        return 2
    old = earlier(path, args.old)
    if isinstance(old, str) or old.rig is None:
        complain(old)
        return 2
    if args.format == "json":
        print(as_json(old.rig, new.rig))
    else:
        print(*map(harmless, as_text(old.rig, new.rig, args.old)), sep="\n")
    return 0


def earlier(path: Path, since: str) -> Compiled | str:
    """The earlier plan of a plan: at a path, else at a git revision; or why there is none, in words."""
    from rigbook.pipeline import compile_at, compile_plan
    from rigbook.plan.earlier import NoRevision

    if is_there(Path(since)):
        there = find_plan(since)
        if there is None:
            return "there is no earlier plan to hold it against"
        got = compile_plan(there)
    else:
        try:
            got = compile_at(path, since)
        except NoRevision as why:
            return str(why)
    if got.rig is None:
        return "\n  ".join((f"the plan of `{since}` could not be read:", *(f.message for f in got.findings[:3])))
    return got


def as_text(old: Rig, new: Rig, since: str) -> Iterator[str]:
    """Lines for people: reads well in a pull request."""
    from rigbook.compute.changes import GROUPS, changes
    from rigbook.walk.again import again, no_more

    found = changes(old.plan, new.plan)
    count = f"{len(found)} change{'' if len(found) == 1 else 's'}" if found else "nothing changed"
    yield f"{new.plan.title}: {count} since {since}"
    for group, title in GROUPS.items():
        lines = [_line(c) for c in found if c.group == group]
        if lines:
            yield ""
            yield title
            yield from lines
    steps = again(old, new)
    if steps:
        yield ""
        yield f"Walk again ({len(steps)})"
        yield from (f"    {s.title}{' (new)' if s.new else ''}" for s in steps)
    gone = no_more(old, new)
    if gone:
        yield ""
        yield f"No more to walk: {', '.join(gone)}"


def _line(change: Change) -> str:
    said = change.after or change.before
    if change.what:
        said = f"{change.what} {change.before or 'none'} → {change.after or 'none'}"
    words = ": ".join(filter(None, (change.subject, said)))
    return f"  {SIGNS[change.how]} {words}{f' ({change.task})' if change.task else ''}"


def as_json(old: Rig, new: Rig) -> str:
    """The same as data."""
    from rigbook.compute.changes import changes
    from rigbook.records import fields
    from rigbook.walk.again import again, no_more

    told = [{n: str(getattr(c, n)) for n in fields(c)} for c in changes(old.plan, new.plan)]
    steps = [{"step": s.key, "title": s.title, "new": s.new} for s in again(old, new)]
    whole = {"changes": told, "walk-again": steps, "no-more": list(no_more(old, new))}
    return json.dumps(whole, ensure_ascii=False, indent=1)
