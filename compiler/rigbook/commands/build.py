"""`rigbook build`: write the handbook of a plan, or those of many plans side by side."""

from __future__ import annotations

import argparse
import io
import sys
from pathlib import Path
from types import MappingProxyType
from typing import TYPE_CHECKING, NamedTuple

from rigbook.commands.common import (
    THRESHOLDS,
    coloured,
    complain,
    cores,
    find_plans,
    report,
    threshold_reached,
    uncollected,
)
from rigbook.findings.screen import harmless

if TYPE_CHECKING:
    from rigbook.checks.compiled import Compiled
    from rigbook.commands.unchanged import Ground
    from rigbook.handbook.sites import Leaf
    from rigbook.handbook.themes import Theme

VIEWS = ("crew", "guest", "public")
LANGUAGE_NAMES = MappingProxyType({"de": "German", "fr": "French"})
SHEETS = ("a4", "letter")


def options(parser: argparse.ArgumentParser) -> None:
    """Arguments of the command."""
    parser.add_argument("plans", nargs="+", metavar="PLAN", help="a plan file, or a folder with plans in it")
    parser.add_argument(
        "--out", required=True, type=Path, metavar="DIR", help="folder for the handbook; of several plans, for all"
    )
    parser.add_argument(
        "--view", choices=VIEWS, default="crew", help="who reads it; what they may not read is left out"
    )
    parser.add_argument("--theme", default="plain", metavar="NAME|DIR", help="a shipped theme, or a folder of your own")
    parser.add_argument("--language", default="", metavar="CODE", help="language of the pages' own words: en, de, fr")
    parser.add_argument(
        "--data", action="store_true", help="write all results as data.json too (not in the public view)"
    )
    parser.add_argument("--pdf", action="store_true", help="write the handbook and its Ten minutes as PDF too")
    parser.add_argument("--paper", choices=SHEETS, default="a4", help="sheets of the PDF; browsers print on either")
    parser.add_argument(
        "--since", default="", metavar="OLD",
        help="add the page of changes since an earlier plan: a path, or a git revision such as HEAD~1 (crew only)",
    )  # fmt: skip
    parser.add_argument("--fail-on", choices=THRESHOLDS, default="error", help="least severity that gives exit code 1")
    parser.add_argument("--strict", action="store_true", help="write nothing where exit code 1 is given")
    parser.add_argument(
        "--jobs", type=int, default=0, metavar="N", help="processes that build (0: as many as there are cores)"
    )


def run(args: argparse.Namespace) -> int:
    """Build. 0: written; 1: findings at or above the threshold; 2: cannot run, and nothing was written."""
    paths = find_plans(args.plans)
    if not paths or not known_language(args.language):
        return 2
    from rigbook.commands.unchanged import Ground

    ground = Ground.of(args)
    if len(paths) > 1:
        from rigbook.commands.sites import build_all

        return build_all(paths, args, ground)
    known = same(ground, paths[0], args.out, coloured(sys.stdout))
    if known is not None:
        return tell(known)
    from rigbook.handbook.themes import ThemeError, find_theme

    try:
        theme = find_theme(args.theme)
    except ThemeError as error:
        complain(error)
        return 2
    with uncollected():
        return tell(build_one(paths[0], args.out, theme, args, coloured(sys.stdout), ground, forks(args)))


def forks(args: argparse.Namespace) -> bool:
    """True where a second process may make a part of a handbook."""
    return args.jobs != 1 and cores() > 1 and sys.platform.startswith("linux")


class Told(NamedTuple):
    """What the build of one plan came to."""

    code: int
    """0: written; 1: findings at or above the threshold; 2: cannot be built."""
    said: str
    """For standard output."""
    complaint: str
    """For standard error."""
    leaf: Leaf | tuple[str, ...]
    """Its line among other handbooks."""


def tell(told: Told) -> int:
    """Print what there is to say of a build; gives its exit code."""
    print(told.said, end="", flush=True)
    complain(*told.complaint.splitlines())
    return told.code


def same(ground: Ground | None, path: Path, out: Path, colour: bool) -> Told | None:
    """What there is to say of a handbook that need not be made again; None where it is to be made."""
    from rigbook.commands.unchanged import recall

    known = recall(ground, path, out, colour) if ground else None
    if known is None:
        return None
    said = f"{known['pages']} pages in {out} are up to date{known['state']}"
    line = harmless(f"{said}, open {out / 'index.html'}")
    return Told(known["code"], f"{known['said']}{line}\n", known["complaint"], tuple(known["leaf"]))


def build_one(
    path: Path, out: Path, theme: Theme, args: argparse.Namespace, colour: bool, ground: Ground | None = None,
    forks: bool = False,
) -> Told:  # fmt: skip
    """The handbook of one plan to a folder, which is replaced whole or not at all; nothing is printed. With `ground` it
    is remembered; with `forks` a second process may make a part of it.
    """
    from rigbook.commands.changes import earlier
    from rigbook.handbook.contrast import looked_at, on_pages
    from rigbook.handbook.sites import leaf_of, unread
    from rigbook.pipeline import compile_plan

    said, complaint = io.StringIO(), io.StringIO()
    since = earlier(path, args.since) if args.since else None
    if isinstance(since, str):
        return Told(2, "", f"{since}\n", unread(path.stem))
    got = compile_plan(path)
    found = looked_at(got, theme)
    report(found, said, colour)
    if got.plan is None:
        return Told(2, said.getvalue(), "", unread(path.stem))
    code = int(threshold_reached(found.findings, args.fail_on))
    if code and args.strict:
        complaint.write("nothing was written (--strict)\n")
        return Told(1, said.getvalue(), complaint.getvalue(), leaf_of(got, args.view, args.language, ""))
    from rigbook.handbook.make import make
    from rigbook.handbook.paper.failure import PaperError
    from rigbook.handbook.themes import ThemeError
    from rigbook.handbook.write import MARKER, WriteError, marker, write

    try:
        shown = on_pages(found, theme)
        files = make(shown, args.view, theme, args.language, args.data, args.pdf, since, forks, args.paper)
        write(files, out)
    except (ThemeError, WriteError, PaperError) as error:
        return Told(2, said.getvalue(), f"{error}\n", leaf_of(got, args.view, args.language, ""))
    pages = sum(name.endswith(".html") for name in files)
    state = in_its_language(got, args.language) + (", marked as failing" if code else "")
    if args.data and args.view == "public":
        complaint.write("the public view has no data.json\n")
    leaf = leaf_of(got, args.view, args.language, out.name)
    if ground is not None:
        from rigbook.commands.unchanged import keep

        kept = {"code": code, "said": said.getvalue(), "complaint": complaint.getvalue(), "leaf": leaf}
        made = {MARKER: marker(files), **files}
        keep(ground, path, out, colour, got, theme, made, {**kept, "pages": pages, "state": state})
    print(harmless(f"wrote {pages} pages to {out}{state}, open {out / 'index.html'}"), file=said)
    return Told(code, said.getvalue(), complaint.getvalue(), leaf)


def in_its_language(got: Compiled, asked: str) -> str:
    """What is said of the language of the pages: nothing where it was asked for, or where it is English."""
    own = got.plan.language if got.plan and not asked else "en"
    return "" if own == "en" else f" in {LANGUAGE_NAMES.get(own, own)}"


def known_language(language: str) -> bool:
    """False, after a message, where there are no words in a language."""
    if not language:
        return True
    from rigbook.findings.suggest import near
    from rigbook.language.keys.plan import LANGUAGES, SPOKEN

    if language in LANGUAGES:
        return True
    close = near(language, SPOKEN)
    hint = f"did you mean `{close[0]}`?" if close else "there are " + ", ".join(f"`{x}`" for x in SPOKEN)
    complain(f"there are no words in the language `{language}`; {hint}")
    return False
