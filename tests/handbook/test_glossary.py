"""The catalogues keep to the words of `compiler/docs/glossary.md`: one term for one thing in each language."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest

from helpers import catalogue
from helpers.tools import ROOT
from rigbook.handbook.tongues import catalogue_file

GLOSSARY = (ROOT / "compiler" / "docs" / "glossary.md").read_text("utf-8")
LINES = [line for line in GLOSSARY.splitlines() if line.startswith("| ")]
ROWS = [[cell.strip() for cell in line.strip("|").split("|")] for line in LINES[1:]]
COLUMNS = {"de": 1, "fr": 2}


def said(language: str) -> Iterator[tuple[str, str]]:
    """Each English text and its translation, singular and plural apart, without what is typed in plans."""
    for message in catalogue.read(catalogue_file(language)):
        pairs = zip(
            message.id if isinstance(message.id, tuple) else (message.id,),
            message.string if isinstance(message.string, tuple) else (message.string,),
            strict=True,
        )
        yield from ((re.sub("`[^`]*`", "", a), re.sub("`[^`]*`", "", b)) for a, b in pairs if a)


@pytest.mark.parametrize("language", COLUMNS)
def test_a_term_alone_is_said_by_its_word(language: str) -> None:
    words = {row[0]: row[COLUMNS[language]] for row in ROWS}
    wrong = [(a, b) for a, b in said(language) if a.lower() in words and b.lower() != words[a.lower()].lower()]
    assert wrong == []


@pytest.mark.parametrize("language", COLUMNS)
def test_no_message_says_a_term_by_another_word(language: str) -> None:
    wrong = []
    for english, own in said(language):
        for row in ROWS:
            others = [w.strip() for w in row[3].split(",") if w.strip()]
            if re.search(rf"\b{row[0].replace(' ', '[ -]')}", english, re.I):
                wrong += [(row[0], own) for w in others if re.search(rf"\b{w}", own, re.I)]
    assert wrong == []


def test_the_glossary_is_in_order_and_whole() -> None:
    assert len(ROWS) > 30
    assert [r[0] for r in ROWS] == sorted(r[0] for r in ROWS)
    assert all(len(r) == 4 and all(r[:3]) for r in ROWS)
