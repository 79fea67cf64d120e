"""Every check against its page and against the two plans of its own docstring; every rig of `common/` is clean."""

from __future__ import annotations

from pathlib import Path

import pytest

from helpers.check_pages import COMMON, cases, compile_text, places, printed, split
from rigbook.checks.catalogue import HEADINGS, explain, names

HERE = Path(__file__).parent
PAGES = sorted(HERE.glob("*/*.md"))
CHECKS = [pytest.param(name, id=f"{group}/{name}") for name, group in names().items()
          if group != "themes"]  # found in themes, not in plans: tests/handbook/test_contrast.py


@pytest.mark.parametrize("path", PAGES, ids=lambda p: f"{p.parent.name}/{p.stem}")
def test_page(path: Path, tmp_path: Path, request: pytest.FixtureRequest, subtests: pytest.Subtests) -> None:
    page = path.read_text("utf-8")
    for number, case in reversed(list(enumerate(cases(page)))):
        with subtests.test(case.title):
            compiled = compile_text(case.text, tmp_path / str(number))
            shown = printed(compiled)
            assert places(compiled) == case.expected, shown
            if case.message is not None and request.config.getoption("--accept"):
                page = page[: case.start] + shown + page[case.end :]
            elif case.message is not None:
                assert case.message == shown
    if request.config.getoption("--accept"):
        path.write_text(page, "utf-8")


@pytest.mark.parametrize("path", PAGES, ids=lambda p: f"{p.parent.name}/{p.stem}")
def test_page_has_hits_near_misses_and_a_message(path: Path) -> None:
    assert names().get(path.stem) == path.parent.name, "a page without a check"
    found = cases(path.read_text("utf-8"))
    assert all(case.title for case in found), "a plan without a heading"
    assert any(slug == path.stem for case in found for _, _, slug in case.expected), "no hit"
    assert any(not case.expected for case in found), "no near miss"
    assert any(f"[{path.stem}]" in (case.message or "") for case in found), "no whole message of this check"


@pytest.mark.parametrize("name", CHECKS)
def test_docstring(name: str, tmp_path: Path) -> None:
    own = explain(name)
    assert [heading for heading, _ in own.parts] == list(HEADINGS)
    assert all(text.strip() for _, text in own.parts)
    fails = compile_text(own.part("Fails"), tmp_path / "fails")
    assert [f.check for f in fails.findings] == [name], printed(fails)
    assert fails.findings[0].severity == own.severity
    passes = compile_text(own.part("Passes"), tmp_path / "passes")
    assert not passes.findings, printed(passes)


@pytest.mark.parametrize("path", sorted(COMMON.glob("*.yaml")), ids=lambda p: p.stem)
def test_common_rigs_are_clean(path: Path, tmp_path: Path) -> None:
    compiled = compile_text(f"plan: 1\nbuilds-on: common/{path.name}", tmp_path)
    assert not compiled.findings, printed(compiled)


PAGE = """# page
## One
```yaml
plan: 1  # finding: a-check, b-check
notes: |  # finding+2: c-check
  first
  second
# file: house.yaml
venue: x   # finding: d-check
```

```finding
as printed
```

## Two
```yaml
plan: 1  # no finding: here
```
"""


def test_reading_of_pages() -> None:
    one, two = cases(PAGE)
    assert (one.title, one.message, two.title, two.message) == ("One", "as printed\n", "Two", None)
    assert PAGE[one.start : one.end] == one.message
    assert one.expected == [
        ("house.yaml", 1, "d-check"), ("plan.yaml", 1, "a-check"), ("plan.yaml", 1, "b-check"),
        ("plan.yaml", 4, "c-check"),
    ]  # fmt: skip
    assert split(one.text)[0] == {"plan.yaml": "plan: 1\nnotes: |\n  first\n  second\n", "house.yaml": "venue: x\n"}
    assert two.expected == []
