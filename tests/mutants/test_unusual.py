"""Plans that are unusual and right: nothing is found in them."""

from __future__ import annotations

from pathlib import Path

import pytest

from helpers.check_pages import Case, cases, compile_text, printed

EVERY = cases((Path(__file__).parent / "unusual.md").read_text("utf-8"))


@pytest.mark.parametrize("case", EVERY, ids=lambda c: c.title)
def test_nothing_is_found(case: Case, tmp_path: Path) -> None:
    got = compile_text(case.text, tmp_path)
    assert not got.findings, printed(got)
