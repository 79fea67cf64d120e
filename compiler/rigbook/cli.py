"""The command line: the tree of commands and the exit codes. A command is imported only when it is chosen."""

from __future__ import annotations

import argparse
import importlib
import io
import os
import sys
from types import MappingProxyType
from typing import Any

from rigbook import __version__

CLEAN, FOUND, CANNOT = 0, 1, 2
"""Exit codes: nothing at or above the threshold; findings; cannot run."""

COMMANDS = ("new", "check", "build", "trace", "explain", "schema", "diagnose", "signals", "serve", "changes")
"""In the order of `--help`. Each is a module of `commands/` with `HELP`, `EXAMPLES`, `options` and `run`."""

ABOUT = """\
Compile a live-sound show plan into a checked handbook: rack, patch, routing, set-up, walk test.

  rigbook new barn                        write a small plan to begin with
  rigbook check barn                      say what is wrong with it, and where
  rigbook build barn --out handbook       write the handbook; open handbook/index.html
  rigbook serve barn                      show it in the browser while you write
"""


class Formatter(argparse.RawDescriptionHelpFormatter):
    """As wide as the screen. argparse would ask `shutil`, whose import takes a third of what `python -c pass` takes."""

    def __init__(self, prog: str) -> None:
        super().__init__(prog, width=_columns() - 2)


def _columns() -> int:
    """Columns of the screen: `COLUMNS`, else what the terminal says, else 80."""
    said = os.environ.get("COLUMNS", "")
    if said.isdecimal() and int(said):
        return int(said)
    try:
        return os.get_terminal_size(sys.__stdout__.fileno()).columns or 80  # type: ignore[union-attr]
    except (AttributeError, ValueError, OSError):
        return 80


def main(argv: list[str] | None = None) -> int:
    """Run a command. Returns the exit code."""
    parser = argparse.ArgumentParser(
        prog="rigbook", description=ABOUT, formatter_class=Formatter
    )
    parser.add_argument("--version", action="version", version=f"rigbook {__version__}")
    chosen = _chosen(sys.argv[1:] if argv is None else argv)
    verbs = parser.add_subparsers(dest="command", metavar="COMMAND", required=True)
    for name in COMMANDS:
        help_text, examples = HELPS[name]
        verb = verbs.add_parser(
            name,
            help=help_text,
            description=help_text[0].upper() + help_text[1:] + ".\n\n" + examples,
            formatter_class=Formatter,
        )
        if name == chosen:
            _command(name).options(verb)
    _steady()
    args = parser.parse_args(argv)
    try:
        code = int(_command(args.command).run(args))
        if argv is None and not getattr(args, "pdf", False):
            _leave(code)
        return code
    except BrokenPipeError:
        # the reader of our output has left (`rigbook check … | head`); that is no fault of the plan
        sys.stderr.close()
        return CLEAN
    except KeyboardInterrupt:
        return CANNOT


HELPS = MappingProxyType(
    {
        "new": ("write a small, clean plan to begin with", "  rigbook new my-barn"),
        "check": (
            "say what is wrong with a plan, and where",
            "  rigbook check shows/rural-hall/reel-night.yaml\n"
            "  rigbook check plan.yaml --fail-on warning --format json\n"
            "  rigbook check shows/*/*.yaml                    every show of a repository, as a git hook would",
        ),
        "build": (
            "write the handbook of a plan, or of many",
            "  rigbook build shows/rural-hall/reel-night.yaml --out handbook\n"
            "  rigbook build shows/*/*.yaml --out handbooks    a handbook each, and a page that lists them\n"
            "  rigbook build plan.yaml --since HEAD~1 --out handbook    with a page of what changed since that commit\n"
            "\n"
            "A handbook in which no byte would be another is left as it is, and the build says that it is up to date;\n"
            "what that is told by is kept in the user's cache folder. Always made: with pictures, --since, --pdf,\n"
            "or where the environment says RIGBOOK_CACHE=off.",
        ),
        "trace": (
            "say how a signal runs to and from a thing",
            "  rigbook trace shows/rural-hall/reel-night.yaml top-left\n  rigbook trace plan.yaml 'channel 7'",
        ),
        "explain": (
            "explain a finding, or list the checks",
            "  rigbook explain silent-speaker\n  rigbook explain\n  rigbook explain gear",
        ),
        "serve": (
            "show the handbook while the plan is written",
            "  rigbook serve shows/rural-hall/reel-night.yaml\n"
            "  rigbook serve plan.yaml --lan --view guest     for phones in the same network",
        ),
        "changes": (
            "say what changed since an earlier plan, and what to do because of it",
            "  rigbook changes HEAD~1 shows/rural-hall/reel-night.yaml       since the last commit\n"
            "  rigbook changes v2 plan.yaml --format json                    since a tag, for machines\n"
            "  rigbook changes last-year/reel-night.yaml reel-night.yaml     one file against another\n\n"
            "What is there as a file or folder is read as a plan, anything else as a git revision of the repository\n"
            "that the plan lies in. The handbook says the same with `rigbook build PLAN --since HEAD~1`.",
        ),
        "schema": ("print the JSON Schema of the plan language", "  rigbook schema > plan.schema.json"),
        "diagnose": (
            "say which faults fit what was heard at the walk test",
            "  rigbook diagnose PLAN --heard 'main-left: top-right'",
        ),
        "signals": (
            "write the test signals of the walk test as sound files",
            "  rigbook signals --out signals\n  rigbook signals shows/rural-hall/reel-night.yaml --out signals",
        ),
    }
)


def _steady() -> None:
    """A letter that the screen or the file behind standard output cannot show is printed as its number."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="backslashreplace")


def _leave(code: int) -> None:
    """End the program here, as taking apart what it has made, thing by thing, takes a tenth of a build. Nothing waits
    for that but what makes PDF files, which keeps files of its own until then.
    """
    try:
        sys.stdout.flush()
        sys.stderr.flush()
    except (OSError, ValueError):
        return  # the usual end says what is wrong
    os._exit(code)


def _chosen(argv: list[str]) -> str:
    return next((a for a in argv if a in COMMANDS), "")


def _command(name: str) -> Any:
    return importlib.import_module(f"rigbook.commands.{name}")


if __name__ == "__main__":
    sys.exit(main())
