"""What several commands share: finding the plan, printing findings, the threshold."""

from __future__ import annotations

import gc
import os
import sys
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, TextIO

from rigbook.text.disk import inside, is_file, is_folder, is_there

if TYPE_CHECKING:
    from rigbook.checks.compiled import Compiled
    from rigbook.findings.finding import Finding

THRESHOLDS = ("error", "warning", "note")
"""Worst first."""
FORMATS = ("text", "json", "sarif")


def find_plan(text: str) -> Path | None:
    """The plan file that a path means; None after a message on standard error."""
    path = Path(text)
    if is_file(path):
        return path
    if not is_folder(path):
        complain(_no_plan(path, text))
        return None
    from rigbook.plan.files import plans_in

    found = plans_in(path)
    if len(found) == 1:
        return found[0]
    if found:
        complain(f"`{text}` holds {len(found)} plans, name one:", *(f"  {p}" for p in found))
    else:
        other = [p for p in inside(path) if p.suffix in (".yaml", ".yml")]
        help_ = f"`{other[0]}` says neither" if other else f"write one with `rigbook new {text}`"
        complain(f"`{text}` holds no plan file (a `.yaml` file that says `show:` or `venue:`)", help_)
    return None


def _no_plan(path: Path, text: str) -> str:
    """What is said of a path where neither a file nor a folder is."""
    from rigbook.findings.suggest import near

    if is_there(path):
        return f"`{text}` is neither a file nor a folder"
    close = near(path.name, [p.name for p in inside(path.parent)])
    hint = f", did you mean `{path.parent / close[0]}`?" if close else f"; `rigbook new {text}` writes one"
    return f"there is no plan at `{text}`{hint}"


def complain(*lines: object) -> None:
    """Print lines on standard error. Names of files and what git says may hold anything: nothing steers the screen."""
    from rigbook.findings.screen import harmless

    for line in lines:
        print(*(harmless(part) for part in str(line).split("\n")), sep="\n", file=sys.stderr)


def find_plans(texts: Iterable[str]) -> tuple[Path, ...]:
    """The plan files that several paths mean, each once, all those of a folder; none, after a message on standard
    error, where one of the paths means none.
    """
    found: dict[Path, None] = {}
    for text in texts:
        several = []
        if is_folder(Path(text)):
            from rigbook.plan.files import plans_in

            several = plans_in(Path(text))
        one = None if len(several) > 1 else find_plan(text)
        if one is None and not several:
            return ()
        found |= dict.fromkeys(several if one is None else [one])
    return tuple(found)


@contextmanager
def uncollected() -> Iterator[None]:
    """Without the cyclic collector, which finds nothing while a plan is compiled and takes a fifth of that time.

    Who compiles several plans calls `gc.collect(0)` between them: a rig and its results hold each other.
    """
    was = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was:
            gc.enable()


def coloured(out: TextIO) -> bool:
    """True where what is printed is to be in colour."""
    return out.isatty() and "NO_COLOR" not in os.environ


def report(got: Compiled, out: TextIO, colour: bool | None = None) -> None:
    """Print the findings of a plan for people; in colour as said, else where `out` shows it."""
    from rigbook.findings.screen import harmless
    from rigbook.findings.to_terminal import summary, to_terminal

    colour = coloured(out) if colour is None else colour
    for finding in got.findings:
        print(to_terminal(finding, got.sources, colour=colour), file=out, end="\n\n")
    title = got.plan.title if got.plan else "no plan"
    print(f"{harmless(title)}: {summary(got.findings)}", file=out)
    if got.accepted:
        print(f"{len(got.accepted)} accepted in the plan, with reasons", file=out)


def for_machines(findings: Iterable[Finding], form: str) -> str:
    """Findings as one document, `json` or `sarif`."""
    if form == "sarif":
        from rigbook.findings.to_sarif import to_sarif

        return to_sarif(findings)
    from rigbook.findings.to_json import to_json

    return to_json(findings)


def threshold_reached(findings: Iterable[Finding], fail_on: str) -> bool:
    """True if a finding is at or above the threshold."""
    from rigbook.findings.finding import Severity

    least = Severity[fail_on.upper()]
    return any(f.severity >= least for f in findings)


def cores() -> int:
    """The cores that this process may use."""
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1
