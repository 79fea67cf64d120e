"""`rigbook build`: write the handbook of a plan."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

from rigbook.commands.common import THRESHOLDS, find_plan, report, threshold_reached

VIEWS = ("crew", "guest", "public")


def options(parser: argparse.ArgumentParser) -> None:
    """Arguments of the command."""
    parser.add_argument("plan", help="a plan file, or a folder with one plan in it")
    parser.add_argument("--out", required=True, type=Path, metavar="DIR", help="folder for the handbook")
    parser.add_argument(
        "--view", choices=VIEWS, default="crew", help="who reads it; what they may not read is left out"
    )
    parser.add_argument("--theme", default="plain", metavar="NAME|DIR", help="a shipped theme, or a folder of your own")
    parser.add_argument("--language", default="", metavar="CODE", help="language of the pages' own words: en, de, fr")
    parser.add_argument(
        "--data", action="store_true", help="write all results as data.json too (not in the public view)"
    )
    parser.add_argument("--pdf", action="store_true", help="write the handbook and its Ten minutes as PDF too")
    parser.add_argument("--fail-on", choices=THRESHOLDS, default="error", help="least severity that gives exit code 1")
    parser.add_argument("--strict", action="store_true", help="write nothing where exit code 1 is given")


def run(args: argparse.Namespace) -> int:
    """Build. 0: written; 1: findings at or above the threshold; 2: cannot run, and nothing was written."""
    from rigbook.pipeline import compile_plan

    path = find_plan(args.plan)
    if path is None or not known_language(args.language):
        return 2
    from rigbook.handbook.contrast import looked_at
    from rigbook.handbook.themes import ThemeError, find_theme

    try:
        theme = find_theme(args.theme)
    except ThemeError as error:
        print(error, file=sys.stderr)
        return 2
    got = compile_plan(path)
    told = looked_at(got, theme)
    report(told, sys.stdout)
    if got.plan is None:
        return 2
    failing = threshold_reached(told.findings, args.fail_on)
    if failing and args.strict:
        print("nothing was written (--strict)", file=sys.stderr)
        return 1
    from rigbook.handbook.make import make
    from rigbook.handbook.paper.pdf import PaperError
    from rigbook.handbook.write import WriteError, write

    try:
        files = make(got, args.view, theme, args.language, args.data, args.pdf)
        write(files, args.out)
    except (ThemeError, WriteError, PaperError) as error:
        print(error, file=sys.stderr)
        return 2
    pages = sum(name.endswith(".html") for name in files)
    state = ", marked as failing" if failing else ""
    print(f"wrote {pages} pages to {args.out}{state}, open {args.out / 'index.html'}")
    if args.data and args.view == "public":
        print("the public view has no data.json", file=sys.stderr)
    return 1 if failing else 0


def known_language(language: str) -> bool:
    """False, after a message, where there are no words in a language."""
    from rigbook.findings.suggest import near
    from rigbook.language.keys.plan import LANGUAGES, SPOKEN

    if not language or language in LANGUAGES:
        return True
    close = near(language, SPOKEN)
    hint = f"did you mean `{close[0]}`?" if close else "there are " + ", ".join(f"`{x}`" for x in SPOKEN)
    print(f"there are no words in the language `{language}`; {hint}", file=sys.stderr)
    return False
