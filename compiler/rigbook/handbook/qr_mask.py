"""The symbol of a square code (ISO/IEC 18004:2015), under that of eight masks with least in it that misleads readers.

All modules of a symbol are the bits of one number. What symbols of one version share is worked out once; weighed (7.8)
is the symbol as it is printed, with its format information and within its quiet zone.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from functools import lru_cache
from typing import Final, NamedTuple

from rigbook.handbook import qr_words

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
FORMAT: Final = "MLHQ"
"""Table 12: levels of error correction by the two bits that tell them."""
FINDER: Final = (1, 0, 1, 1, 1, 0, 1)
"""Dark and light as in the middle of a finder pattern: 1 : 1 : 3 : 1 : 1."""


class Frame(NamedTuple):
    """What all symbols of a version share; modules as bits, row by row within the quiet zone."""

    wide: int
    """Modules of a row with its quiet zone."""
    inside: int
    """The modules of the symbol."""
    fixed: int
    """The dark modules that are the same in each, whatever it says."""
    places: tuple[int, ...]
    """Where the bits of the message stand, in order, those that it leaves over at the end."""
    masks: tuple[int, ...]
    """The modules that each mask turns over."""


def masked(text: str) -> tuple[str, ...]:
    """The symbol of a text as rows of modules, 1 for dark, under the mask that weighs least. ValueError where it is
    too long.
    """
    version, level, message = qr_words.message(text)
    frame = frame_of(version)
    last = frame.wide * frame.wide - 1
    modules = bytearray(b"0") * (last + 1)
    for place, bit in zip(frame.places, f"{int.from_bytes(message, 'big'):0{8 * len(message)}b}".encode()):
        modules[last - place] = bit
    bare = int(modules, 2) | frame.fixed
    every = (bare ^ turned | format_of(version, level, k) for k, turned in enumerate(frame.masks))
    return _rows(min(every, key=lambda bits: penalty(bits, frame)), frame.wide)


@lru_cache(maxsize=64)
def frame_of(version: int) -> Frame:
    """The frame of a version, 1 to 40."""
    side = 17 + 4 * version
    wide = side + 2 * QUIET
    fixed = _fixed(version)
    kept = {*fixed, *((8, j) for j in (*range(9), *range(side - 8, side)))}
    kept |= {(i, 8) for i in (*range(9), *range(side - 8, side))}
    free = [place for place in _way(side) if place not in kept]
    masks = tuple(_number((p for p in free if turns(*p)), wide) for turns in PATTERNS)
    inside = _number(((i, j) for i in range(side) for j in range(side)), wide)
    dark = _number((place for place, module in fixed.items() if module), wide)
    return Frame(wide, inside, dark, tuple(_place(p, wide) for p in free), masks)


def _way(side: int) -> Iterator[tuple[int, int]]:
    """All modules in the order in which a message is laid (7.7.3): up and down in columns of two, from the right."""
    upward = True
    for right in (*range(side - 1, 6, -2), 5, 3, 1):
        for i in range(side - 1, -1, -1) if upward else range(side):
            yield i, right
            yield i, right - 1
        upward = not upward


def _fixed(version: int) -> dict[tuple[int, int], bool]:
    """Finder, timing and alignment patterns with what parts them, the dark module, and the version (6.3, 7.10)."""
    side = 17 + 4 * version
    out = {(6, j): j % 2 == 0 for j in range(side)} | {(j, 6): j % 2 == 0 for j in range(side)}
    for top, left in ((0, 0), (0, side - 7), (side - 7, 0)):
        for i in range(-1, 8):
            for j in range(-1, 8):
                if 0 <= top + i < side and 0 <= left + j < side:
                    out[top + i, left + j] = max(abs(i - 3), abs(j - 3)) in (0, 1, 3)
    rows = _alignment(version)
    for y in rows:
        for x in rows:
            if (y, x) not in ((6, 6), (6, side - 7), (side - 7, 6)):
                spots = ((i, j) for i in range(-2, 3) for j in range(-2, 3))
                out |= {(y + i, x + j): max(abs(i), abs(j)) != 1 for i, j in spots}
    if version >= 7:
        said = _remainder(version, 12, 0x1F25)
        for k in range(18):
            a, b = side - 11 + k % 3, k // 3
            out[a, b] = out[b, a] = bool(said >> k & 1)
    return out | {(side - 8, 8): True}


def _alignment(version: int) -> tuple[int, ...]:
    """Rows, and columns, of the middles of alignment patterns (annex E)."""
    if version == 1:
        return ()
    count, last = version // 7 + 2, 10 + 4 * version
    step = 26 if version == 32 else (version * 4 + count * 2 + 1) // (count * 2 - 2) * 2
    return (6, *(last - step * k for k in range(count - 2, -1, -1)))


def _remainder(said: int, size: int, generator: int) -> int:
    """A few bits with those that correct them (annexes C and D)."""
    rest = said
    for _ in range(size):
        rest = rest << 1 ^ (rest >> size - 1) * generator
    return said << size | rest


@lru_cache(maxsize=512)
def format_of(version: int, level: str, mask: int) -> int:
    """The dark modules of the format information, which tells level of error correction and mask (7.9, figure 25)."""
    side = 17 + 4 * version
    said = _remainder(FORMAT.index(level) << 3 | mask, 10, 0x537) ^ 0x5412
    once = [*((i, 8) for i in range(6)), (7, 8), (8, 8), (8, 7), *((8, 14 - k) for k in range(9, 15))]
    again = [*((8, side - 1 - k) for k in range(8)), *((side - 15 + k, 8) for k in range(8, 15))]
    dark = (place for places in (once, again) for k, place in enumerate(places) if said >> k & 1)
    return _number(dark, side + 2 * QUIET)


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


def _place(place: tuple[int, int], wide: int) -> int:
    """Row and column of a module as its bit."""
    return (place[0] + QUIET) * wide + place[1] + QUIET


def _number(places: Iterable[tuple[int, int]], wide: int) -> int:
    """Modules as bits of one number."""
    out = bytearray((wide * wide + 7) // 8)
    for place in places:
        at = _place(place, wide)
        out[at >> 3] |= 1 << (at & 7)
    return int.from_bytes(out, "little")


def _rows(bits: int, wide: int) -> tuple[str, ...]:
    """The modules of a symbol, without its quiet zone."""
    text = f"{bits:0{wide * wide}b}"[::-1]
    return tuple(text[y * wide + QUIET : (y + 1) * wide - QUIET] for y in range(QUIET, wide - QUIET))
