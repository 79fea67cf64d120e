"""README.md: the pictures it shows are there, of a built handbook (`tests/helpers/readme_pictures.py`), and small."""

from __future__ import annotations

import re

from helpers.tools import ROOT


def test_the_pictures_are_there_and_small() -> None:
    text = (ROOT / "README.md").read_text("utf-8")
    named = re.findall(r'<img src="([^"]+)"[^>]* alt="([^"]+)"', text)
    assert len(named) == text.count("<img") >= 3
    sizes = {path: (ROOT / path).stat().st_size for path, _ in named}
    assert {p: s for p, s in sizes.items() if s > 60_000} == {}
    assert sum(sizes.values()) <= 250_000
    kept = {p.relative_to(ROOT).as_posix() for p in (ROOT / "compiler" / "docs" / "pictures").iterdir()}
    assert kept == set(sizes), "a picture that nothing shows, or one that is not there"
