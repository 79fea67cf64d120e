"""Text for a terminal: harmless, of known width, and cut so that the span stays in view."""

from __future__ import annotations

import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigbook.findings.screen import cells, clip, harmless


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("plain `text` — é 名", "plain `text` — é 名"),
        ("a\tb", "a    b"),
        ("a\nb", "a b"),
        ("\x1b[31mred\x07", "␛[31mred␇"),
        ("\x7f\x9b31m", "␡�31m"),
        ("abc\u202edcba", "abc�dcba"),  # turns the writing direction
        ("a\u200bb\ufeff", "a�b�"),
        ("\ud800", "�"),
    ],
)
def test_harmless(text: str, shown: str) -> None:
    assert harmless(text) == shown


@given(st.text(st.characters(exclude_categories=())))
def test_nothing_steers_the_terminal(text: str) -> None:
    for letter in harmless(text):
        assert unicodedata.category(letter) not in ("Cc", "Cs")
        assert letter not in "\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069"


@pytest.mark.parametrize(("text", "width"), [("abc", 3), ("名前", 4), ("e\u0301", 1), ("𝄞", 1), ("ﾊ", 1), ("Ａ", 2)])
def test_cells(text: str, width: int) -> None:
    """Widths by East Asian Width (Unicode Standard Annex 11): W and F are two cells, H and N one."""
    assert cells(text) == width


def test_clip() -> None:
    assert clip("short", 1, 3, 20) == ("short", 1, 2)
    assert clip("0123456789" * 3, 2, 5, 20) == ("0123456789012345678…", 2, 3)
    assert clip("0123456789" * 3, 0, 30, 20) == ("0123456789012345678…", 0, 20)


def test_clip_keeps_a_late_span_in_view() -> None:
    text, first, length = clip("x" * 500 + "needle" + "y" * 500, 500, 506, 40)
    assert text[first : first + length] == "needle"
    assert text.startswith("…x")
    assert text.endswith("y…")


@given(st.text(max_size=80), st.data(), st.integers(20, 60))
def test_clip_fits(line: str, data: st.DataObject, width: int) -> None:
    start = data.draw(st.integers(0, len(line)))
    end = data.draw(st.integers(start, len(line)))
    text, first, length = clip(line, start, end, width)
    assert cells(text) <= width
    assert 0 <= first <= cells(text)
    assert 0 <= length <= cells(text) - first
    if cells(harmless(line)) <= width:
        assert text == harmless(line)
