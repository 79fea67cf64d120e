"""Text for a terminal of fixed-width cells: nothing in it can steer the terminal, and its width is known."""

from __future__ import annotations

import unicodedata

TAB = 4
"""Cells that a tab is shown as, wherever it stands."""

FAR = 400
"""Letters before, in and behind a span that are looked at: a line may have millions, and a screen shows a hundred."""
_JOINER = "\u200d"


def harmless(text: str) -> str:
    """The text with signs in place of control characters, turned writing directions and the like.

    A tab becomes blanks, a line end a blank, a C0 control its picture (U+2400 block), all else of that kind U+FFFD.
    """
    if text.isascii() and text.isprintable():
        return text
    return "".join(map(_shown, text))


def _shown(letter: str) -> str:
    if letter == "\t":
        return " " * TAB
    if letter == "\n":
        return " "
    if letter < " ":
        return chr(0x2400 + ord(letter))
    if letter == "\x7f":
        return "\u2421"
    odd = unicodedata.category(letter) in ("Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp") and letter != _JOINER
    return "\ufffd" if odd else letter


def cells(text: str) -> int:
    """How many cells a harmless text takes (Unicode Standard Annex 11: wide and fullwidth letters take two)."""
    return len(text) if text.isascii() else sum(map(_cells, text))


def _cells(letter: str) -> int:
    if letter == _JOINER or unicodedata.combining(letter) or "\ufe00" <= letter <= "\ufe0f":
        return 0
    return 2 if unicodedata.east_asian_width(letter) in "WF" else 1


def clip(line: str, start: int, end: int, width: int) -> tuple[str, int, int]:
    """The part of a source line around a span that fits into `width` cells.

    Args:
        line: as in the file.
        start: first character of the span.
        end: the character behind it.
        width: cells, at least 20.

    Returns:
        the harmless text, with `…` where it is cut; the span's first cell in it; the cells that the span takes.
    """
    before, inside = harmless(line[max(start - FAR, 0) : start]), harmless(line[start : min(end, start + FAR)])
    after = harmless(line[end : end + FAR])
    if cells(before) + cells(inside) + cells(after) <= width:
        return before + inside + after, cells(before), cells(inside)
    lead = ""
    room = width // 3
    if cells(before) > room and cells(before) + cells(inside) > width - room:
        before, lead = _tail(before, room), "…"
    shown = cells(lead + before)
    rest = _head(inside + after, width - shown)
    return lead + before + rest, shown, min(cells(inside), cells(rest))


def _head(text: str, width: int) -> str:
    if cells(text) <= width:
        return text
    while cells(text) > width - 1:
        # a letter takes two cells at most, so half of what is too much can go at once
        text = text[: -max(1, (cells(text) - width + 1) // 2)]
    return text + "…"


def _tail(text: str, width: int) -> str:
    while cells(text) > width - 1:
        text = text[max(1, (cells(text) - width + 1) // 2) :]
    return text
