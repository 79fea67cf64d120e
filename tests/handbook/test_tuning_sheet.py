"""The tuning sheet: for the crew alone, every field told apart, a form that says what it wants without a script."""

from __future__ import annotations

import re

import pytest

from helpers.sites import shows
from rigbook.handbook.make import make
from rigbook.handbook.themes import find_theme
from rigbook.pipeline import compile_plan


@pytest.mark.parametrize("show", shows(), ids=lambda p: p.stem)
def test_fields_are_told_apart(show) -> None:
    """A field keeps its text by its name, so that no name may come twice; each says what it is for."""
    page = make(compile_plan(show), "crew", find_theme("plain"))["tuning-sheet.html"].decode()
    named = re.findall(r'data-field="([^"]+)"', page)
    assert len(named) > 60
    assert len(set(named)) == len(named)
    for tag in re.findall(r"<(?:input|textarea) [^>]*data-field=[^>]*>", page):
        ident = re.search(r' id="([^"]+)"', tag)
        assert "aria-label=" in tag or (ident and f'for="{ident[1]}"' in page), tag


def test_it_is_for_the_crew(hall) -> None:
    for view in ("guest", "public"):
        files = make(hall, view, find_theme("plain"))
        assert "tuning-sheet.html" not in files
        assert not [name for name in files if "tuning" in name]


def test_without_loudspeakers_there_is_none(book) -> None:
    from rigbook.handbook.pages import tuning_sheet

    assert tuning_sheet.page(book("plan: 1\nshow: Quiet\nunits: {desk: desk-16}\n")) is None
