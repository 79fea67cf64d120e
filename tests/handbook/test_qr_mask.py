"""The mask of a square code: each symbol is one that the library makes with a mask named, and none weighs less."""

from __future__ import annotations

import re

import pytest
import segno

from rigbook.handbook import qr_words
from rigbook.handbook.qr_mask import FINDER, PATTERNS, QUIET, Frame, format_of, frame_of, masked, penalty

TEXTS = ("A1", "S4K-D7M", "https://example.org/hall/patch.html#cable-main-left", "Bühne → links", "x" * 200, "7",
         "2027", "20270206", "AB" * 40, "ch 12", "ü" * 90)


@pytest.fixture(autouse=True)
def _padding(monkeypatch: pytest.MonkeyPatch) -> None:
    """The library adds eight bits of padding to a message that ends with a codeword, where 7.4.10 asks for none."""
    def pad(bits: list[int], _version: int, length: int) -> None:
        bits.extend([0] * (-length % 8))

    monkeypatch.setattr(segno.encoder, "write_padding_bits", pad)


def library(text: str, mask: int, **options: object) -> list[list[int]]:
    made = segno.make(text, micro=False, mask=mask, **options)
    return [[int(module) for module in row] for row in made.matrix]


def bits_of(rows: list[list[int]], frame: Frame) -> int:
    """Modules as the bits of one number, within the quiet zone."""
    lines = enumerate(rows, QUIET)
    return sum(1 << (y * frame.wide + x) for y, row in lines for x, dark in enumerate(row, QUIET) if dark)


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
    made = [[int(module) for module in row] for row in masked(text)]
    assert made in every
    assert weight(made) == min(map(weight, every))
    frame = frame_of((len(made) - 17) // 4)
    assert [penalty(bits_of(rows, frame), frame) for rows in every] == list(map(weight, every))


@pytest.mark.parametrize("version", range(1, 41))
def test_masks_and_format_of_every_size(version: int) -> None:
    """From version 7 on symbols tell their version too, and alignment patterns stand within."""
    frame = frame_of(version)
    options = {"version": version, "error": "q", "boost_error": False}
    bare = bits_of(library("1", 0, **options), frame) & ~format_of(version, "Q", 0) ^ frame.masks[0]
    for mask in range(1, len(PATTERNS)):
        other = bits_of(library("1", mask, **options), frame)
        assert bare ^ frame.masks[mask] | format_of(version, "Q", mask) == other


def test_texts_of_every_length_and_alphabet_are_laid_out_as_the_library_lays_them() -> None:
    """The message, its error correction and where it stands; under one mask, as that is enough."""
    texts = [alphabet[:n % 7 + 1] * (n // 7 + 1) for alphabet in ("7031984", "S4K-D7:", "cable/3", "Bühne →")
             for n in (*range(0, 60, 5), *range(60, 900, 97))]
    for text in texts:
        version, level, message = qr_words.message(text)
        named = not text.isascii()
        made = segno.make(text, micro=False, mask=0, error="m", encoding="utf-8" if named else None, eci=named)
        assert (made.version, made.error) == (version, level), text
        frame = frame_of(version)
        data = f"{int.from_bytes(message, 'big'):0{8 * len(message)}b}"
        dark = sum(1 << place for place, bit in zip(frame.places, data) if bit == "1")
        symbol = (dark | frame.fixed) ^ frame.masks[0] | format_of(version, level, 0)
        assert symbol == bits_of([[int(m) for m in row] for row in made.matrix], frame), text


def test_a_text_that_no_code_holds_is_refused() -> None:
    with pytest.raises(ValueError, match="too long"):
        masked("x" * 2332)
    assert len(masked("x" * 2331)) == 177
