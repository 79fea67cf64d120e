"""The pages in `mistakes/`: each heading is a mistake, then the plan, then every message as printed, whole.

`pytest --accept` writes the messages as now printed; a person reads the difference.
"""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from rigbook.findings.finding import in_order
from rigbook.findings.place import Source
from rigbook.findings.to_terminal import to_terminal
from rigbook.text.yaml_reader import read

PAGES = sorted((Path(__file__).parent / "mistakes").glob("*.md"))
CASE = re.compile(
    r"^## (?P<title>[^\n]+)\n(?:(?!## |```)[^\n]*\n)*```yaml\n(?P<plan>.*?)```\n\n```finding\n(?P<text>.*?)```\n",
    re.MULTILINE | re.DOTALL,
)


def printed(plan: str) -> str:
    """Every finding as on a terminal, a blank line between them."""
    source = Source("plan.yaml", plan.replace("→", "\t"))
    _, findings = read(source)
    return "\n\n".join(to_terminal(f, {source.file: source}) for f in in_order(findings)) + "\n"


@pytest.mark.parametrize("path", PAGES, ids=lambda p: p.stem)
def test_pages(path: Path, request: pytest.FixtureRequest, subtests: pytest.Subtests) -> None:
    page = path.read_text("utf-8")
    cases = list(CASE.finditer(page))
    assert len(cases) == page.count("\n## "), "a case that is not read"
    if request.config.getoption("--accept"):
        page = CASE.sub(lambda m: m.group()[: m.start("text") - m.start()] + printed(m["plan"]) + "```\n", page)
        path.write_text(page, "utf-8")
        return
    for case in cases:
        with subtests.test(case["title"]):
            assert printed(case["plan"]) == case["text"]


def test_each_name_has_a_page() -> None:
    """Every finding that this room can make is shown once as people see it."""
    shown = set(re.findall(r"\[([a-z-]+)\]$", "\n".join(p.read_text("utf-8") for p in PAGES), re.M))
    assert shown >= {
        "anchor-used",
        "comment-cut",
        "duplicate-key",
        "odd-key",
        "several-documents",
        "tab-indent",
        "tag-used",
        "too-deep",
        "yaml-syntax",
    }
