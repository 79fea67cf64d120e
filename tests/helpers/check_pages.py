"""Literate test pages: plans with the findings they must give, written where the fault is.

A page is Markdown. Each `yaml` block is a case, named by the heading above it. A line that must give a finding ends
in `# finding: <slug>` (several: `# finding: a, b`); `# finding+2: <slug>` is for the line two below, where a comment
cannot stand. A line that ends in `# times: N` stands N times. A block without a mark must give no finding at all. A
`finding` block below a case is everything that the terminal prints of it; `pytest --accept` rewrites it.

A line `# file: NAME` inside a block begins another file beside the plan. `builds-on: common/<name>.yaml` names a rig of
`tests/checks/common/`.
"""

from __future__ import annotations

import re
import shutil
from dataclasses import dataclass
from pathlib import Path
from textwrap import dedent

from helpers.tools import ROOT
from rigbook.findings.finding import Finding
from rigbook.findings.to_terminal import to_terminal
from rigbook.pipeline import Compiled, compile_plan

COMMON = ROOT / "tests" / "checks" / "common"
PLAN = "plan.yaml"
PIECE = re.compile(r"^(?:## (?P<title>[^\n]+)|```(?P<sort>yaml|finding)\n(?P<body>.*?)^```)$", re.M | re.S)
MARK = re.compile(r"\s*# finding(?:\+(?P<below>\d+))?: *(?P<names>[a-z0-9-]+(?:, *[a-z0-9-]+)*)\s*$")
TIMES = re.compile(r"\s*# times: (\d+)$")
FILE = re.compile(r"^# file: (\S+)$")

Place = tuple[str, int, str]
"""File, 1-based line, name of the check."""


@dataclass(frozen=True)
class Case:
    """One plan of a page."""

    title: str
    text: str
    message: str | None
    """What the `finding` block says; None where there is none."""
    start: int = 0
    end: int = 0
    """Where the text of the `finding` block stands in the page."""

    @property
    def expected(self) -> list[Place]:
        """What must be found, in order."""
        return split(self.text)[1]


def cases(page: str) -> list[Case]:
    """The cases of a page, in order."""
    out: list[Case] = []
    title = ""
    for m in PIECE.finditer(page):
        if m["title"]:
            title = m["title"]
        elif m["sort"] == "yaml":
            out.append(Case(title, m["body"], None))
        else:
            assert out and out[-1].message is None and out[-1].title == title, f"{title}: a message without a plan"
            out[-1] = Case(title, out[-1].text, m["body"], m.start("body"), m.end("body"))
    return out


def split(text: str) -> tuple[dict[str, str], list[Place]]:
    """The files of a block, the plan first and without its marks; and what is marked in them."""
    files: dict[str, list[str]] = {PLAN: []}
    expected: list[Place] = []
    name = PLAN
    for line in dedent(text).splitlines():
        if begins := FILE.match(line):
            name = begins[1]
            files[name] = []
            continue
        if mark := MARK.search(line):
            line = line[: mark.start()]
            below = len(files[name]) + 1 + int(mark["below"] or 0)
            expected += [(name, below, slug.strip()) for slug in mark["names"].split(",")]
        if times := TIMES.search(line):
            files[name] += [line[: times.start()]] * int(times[1])
            continue
        files[name].append(line)
    return {n: "\n".join(lines) + "\n" for n, lines in files.items()}, sorted(expected)


def compile_text(text: str, folder: Path) -> Compiled:
    """A block as a plan in a folder of its own, compiled with every check."""
    shutil.copytree(COMMON, folder / "common", dirs_exist_ok=True)
    for name, content in split(text)[0].items():
        file = folder / name
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text(content, "utf-8")
    return compile_plan(folder / PLAN, folder)


def place(finding: Finding) -> Place:
    """Where a finding is and what it is."""
    span = finding.primary.span
    return span.file, span.one_based()[0], finding.check


def places(compiled: Compiled) -> list[Place]:
    """Everything found, in order."""
    return sorted(place(f) for f in compiled.findings)


def printed(compiled: Compiled) -> str:
    """Everything found as on a terminal, a blank line between two."""
    return "\n\n".join(to_terminal(f, compiled.sources) for f in compiled.findings) + "\n"
