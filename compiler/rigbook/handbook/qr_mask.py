"""The mask of a square code (ISO/IEC 18004:2015, 7.8): of eight the one with least in it that misleads readers.

The library lays out the symbol once, with the first mask; the others are put on here, all modules of a symbol as the
bits of one number. Weighed is the symbol as it is printed, with its format information and within its quiet zone.
A sheet of labels has hundreds of codes, and the library's own way of choosing took four fifths of their time.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import lru_cache
from typing import Any, Final, NamedTuple

QUIET: Final = 4
"""Modules of white on each side: ISO/IEC 18004 asks for four."""
PATTERNS: Final[tuple[Callable[[int, int], bool], ...]] = (
    lambda i, j: (i + j) % 2 == 0,
    lambda i, j: i % 2 == 0,
    lambda i, j: j % 3 == 0,
    lambda i, j: (i + j) % 3 == 0,
    lambda i, j: (i // 2 + j // 3) % 2 == 0,
    lambda i, j: i * j % 2 + i * j % 3 == 0,
    lambda i, j: (i * j % 2 + i * j % 3) % 2 == 0,
    lambda i, j: ((i + j) % 2 + i * j % 3) % 2 == 0,
)
"""Table 10: which modules a mask turns over, by row and column."""
FINDER: Final = (1, 0, 1, 1, 1, 0, 1)
"""Dark and light as in the middle of a finder pattern: 1 : 1 : 3 : 1 : 1."""


class Frame(NamedTuple):
    """What all symbols of a version share; modules as bits, row by row within the quiet zone."""

    wide: int
    """Modules of a row with its quiet zone."""
    inside: int
    """The modules of the symbol."""
    masks: tuple[int, ...]
    """The modules that each mask turns over."""


def masked(text: str, **options: Any) -> list[list[int]]:
    """The symbol of a text as rows of modules, 1 for dark, under the mask that weighs least."""
    import segno

    made = segno.make(text, micro=False, mask=0, **options)
    version, error = int(made.version), str(made.error)
    frame = frame_of(version)
    bare = _bits(made.matrix, frame.wide) & ~format_of(version, error, 0) ^ frame.masks[0]
    every = [bare ^ frame.masks[k] | format_of(version, error, k) for k in range(len(PATTERNS))]
    return _rows(min(every, key=lambda bits: penalty(bits, frame)), frame.wide)


@lru_cache(maxsize=64)
def frame_of(version: int) -> Frame:
    """The frame of a version, 1 to 40."""
    import segno
    from segno import consts

    # told apart by place: the library counts one module beside the format information as part of it
    data = (consts.TYPE_DATA_DARK, consts.TYPE_DATA_LIGHT, consts.TYPE_FORMAT_DARK, consts.TYPE_FORMAT_LIGHT)
    kinds = list(segno.make("1", version=version, mask=0).matrix_iter(border=0, verbose=True))
    side = len(kinds)
    wide = side + 2 * QUIET
    region = _bits([[kind in data for kind in row] for row in kinds], wide) & ~_format_places(side)
    masks = ([[turns(i, j) for j in range(side)] for i in range(side)] for turns in PATTERNS)
    inside = _bits([[1] * side] * side, wide)
    return Frame(wide, inside, tuple(_bits(rows, wide) & region for rows in masks))


@lru_cache(maxsize=512)
def format_of(version: int, error: str, mask: int) -> int:
    """The dark modules of the format information, which tells level of error correction and mask."""
    import segno

    made = segno.make("1", version=version, error=error, boost_error=False, mask=mask)
    side = len(made.matrix)
    return _bits(made.matrix, side + 2 * QUIET) & _format_places(side)


def _format_places(side: int) -> int:
    """Where the format information stands, twice (7.9, figure 25)."""
    beside = (*range(6), 7, 8)
    places = {(8, j) for j in (*beside, *range(side - 8, side))} | {(i, 8) for i in (*beside, *range(side - 7, side))}
    return _bits([[(i, j) in places for j in range(side)] for i in range(side)], side + 2 * QUIET)


def penalty(dark: int, frame: Frame) -> int:
    """How much of a symbol is like what misleads readers (7.8.3.1, table 11)."""
    wide, inside = frame.wide, frame.inside
    light = inside & ~dark
    score = 0
    for same in (dark, light):
        for step in (1, wide):
            two = same & same >> step
            five = two & two >> 2 * step & same >> 4 * step
            # a run of five costs 3, of each more 1
            score += five.bit_count() + 2 * (five & ~(five >> step)).bit_count()
        block = same & same >> 1
        score += 3 * (block & block >> wide).bit_count()
    # the quiet zone is light too; what lies beyond the last row does not count
    pale = ~dark & (1 << wide * wide) - 1
    for step in (1, wide):
        found = inside
        for at, module in enumerate(FINDER):
            found &= (dark if module else pale) >> at * step
        two = pale & pale >> step
        four = two & two >> 2 * step
        score += 40 * (found & (four << 4 * step | four >> len(FINDER) * step)).bit_count()
    share = 100 * dark.bit_count() / inside.bit_count()
    return score + 10 * int(abs(share - 50) / 5)


def _bits(rows: Iterable[Iterable[int]], wide: int) -> int:
    """Rows of modules as bits of one number, set into the quiet zone."""
    out = 0
    for y, row in enumerate(rows, QUIET):
        line = "".join("1" if module else "0" for module in row)
        out |= int(line[::-1], 2) << y * wide + QUIET
    return out


def _rows(bits: int, wide: int) -> list[list[int]]:
    """The modules of a symbol, without its quiet zone."""
    text = f"{bits:0{wide * wide}b}"[::-1]
    return [[int(m) for m in text[y * wide + QUIET : (y + 1) * wide - QUIET]] for y in range(QUIET, wide - QUIET)]
