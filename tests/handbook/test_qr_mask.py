"""The mask of a square code: each symbol is one that the library makes with a mask named, and none weighs less."""

from __future__ import annotations

import re

import pytest
import segno

from rigbook.handbook.qr_mask import FINDER, PATTERNS, QUIET, _bits, format_of, frame_of, masked, penalty

TEXTS = ("A1", "S4K-D7M", "https://example.org/hall/patch.html#cable-main-left", "Bühne → links", "x" * 200)


def library(text: str, mask: int, **options: object) -> list[list[int]]:
    made = segno.make(text, micro=False, mask=mask, **options)
    return [[int(module) for module in row] for row in made.matrix]


def weight(rows: list[list[int]]) -> int:
    """ISO/IEC 18004:2015, 7.8.3.1, table 11, as its words say it, within the quiet zone."""
    lines = ["".join(map(str, line)) for line in (*rows, *zip(*rows))]
    score = sum(len(run[0]) - 2 for line in lines for run in re.finditer(r"0{5,}|1{5,}", line))
    side = range(len(rows) - 1)
    score += 3 * sum(rows[y][x] == rows[y][x + 1] == rows[y + 1][x] == rows[y + 1][x + 1] for y in side for x in side)
    middle = "".join(map(str, FINDER))
    for line in lines:
        zone = "0" * QUIET + line + "0" * QUIET
        for at in range(len(zone) - 6):
            beside = (zone[at - 4:at] if at >= 4 else "", zone[at + 7:at + 11])
            score += 40 * (zone[at:at + 7] == middle and "0000" in beside)
    dark = sum(map(sum, rows)) * 100 / len(rows) ** 2
    return score + 10 * int(abs(dark - 50) / 5)


@pytest.mark.parametrize("text", TEXTS)
def test_the_symbol_is_the_lightest_of_the_librarys(text: str) -> None:
    options = {"error": "m", "encoding": None if text.isascii() else "utf-8", "eci": not text.isascii()}
    every = [library(text, mask, **options) for mask in range(len(PATTERNS))]
    made = masked(text, **options)
    assert made in every
    assert weight(made) == min(map(weight, every))
    frame = frame_of((len(made) - 17) // 4)
    assert [penalty(_bits(rows, frame.wide), frame) for rows in every] == list(map(weight, every))


@pytest.mark.parametrize("version", [1, 2, 6, 7, 13, 25, 40])
def test_masks_and_format_of_every_size(version: int) -> None:
    """From version 7 on symbols tell their version too, and alignment patterns stand within."""
    frame = frame_of(version)
    first = _bits(library("1", 0, version=version, error="q", boost_error=False), frame.wide)
    bare = first & ~format_of(version, "Q", 0) ^ frame.masks[0]
    for mask in range(1, len(PATTERNS)):
        other = library("1", mask, version=version, error="q", boost_error=False)
        assert bare ^ frame.masks[mask] | format_of(version, "Q", mask) == _bits(other, frame.wide)
