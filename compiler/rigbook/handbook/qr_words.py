"""What a text is in the words of a square code (ISO/IEC 18004:2015, 7.4 to 7.6): bits, padding, error correction.

The library that the tests hold this against spends thirty times as long on a code, and loading it loads the machinery
of requests to servers; a sheet of labels has hundreds of codes.
"""

from __future__ import annotations

from functools import lru_cache
from typing import Final

LEVELS: Final = "LMQH"
"""Levels of error correction, rising."""
LETTERS: Final = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:"
"""Table 5: what two to eleven bits hold."""
UTF_8: Final = 0b0111 << 8 | 26
"""Names the alphabet (ECI, 7.4.2): AIM assignment 26."""
# table 9, by level and version
_CHECKS: Final = tuple(
    tuple(map(int, row.split()))
    for row in (
        "7 10 15 20 26 18 20 24 30 18 20 24 26 30 22 24 28 30 28 28 28 28 30 30 26 28" + 14 * " 30",
        "10 16 26 18 24 16 18 22 22 26 30 22 22 24 24 28 28 26 26 26 26" + 19 * " 28",
        "13 22 18 26 18 24 18 22 20 24 28 26 24 20 30 24 28 28 26 30 28 30 30 30 30 28" + 14 * " 30",
        "17 28 22 16 22 28 26 26 24 28 24 28 22 24 24 30 28 28 26 28 30 24" + 18 * " 30",
    )
)
"""Codewords of error correction in each block."""
_BLOCKS: Final = tuple(
    tuple(map(int, row.split()))
    for row in (
        "1 1 1 1 1 2 2 2 2 4 4 4 4 4 6 6 6 6 7 8 8 9 9 10 12 12 12 13 14 15 16 17 18 19 19 20 21 22 24 25",
        "1 1 1 2 2 4 4 4 5 5 5 8 9 9 10 10 11 13 14 16 17 17 18 20 21 23 25 26 28 29 31 33 35 37 38 40 43 45 47 49",
        "1 1 2 2 4 4 6 6 8 8 8 10 12 16 12 17 16 18 21 20 23 23 25 27 29 34 34 35 38 40 43 45 48 51 53 56 59 62 65 68",
        "1 1 2 4 4 4 5 6 8 8 11 11 16 16 18 16 19 21 25 25 25 34 30 32 35 37 40 42 45 48 51 54 57 60 63 66 70 74 77 81",
    )
)
_LARGEST: Final = 40


def message(text: str) -> tuple[int, str, bytes]:
    """The smallest version that holds a text at level M, the best level that it has room for, and its codewords.

    ValueError where no code holds it.
    """
    for version in range(1, _LARGEST + 1):
        bits = _bits(text, version)
        fits = [level for level in LEVELS[1:] if len(bits) <= 8 * held(version, level)]
        if "M" in fits:
            return version, fits[-1], _corrected(_padded(bits, held(version, fits[-1])), version, fits[-1])
    raise ValueError("the text is too long for a square code")


def codewords(version: int) -> int:
    """Codewords of a symbol, those of error correction among them."""
    modules = (16 * version + 128) * version + 64
    if version > 1:
        beside = version // 7 + 2
        modules -= (25 * beside - 10) * beside - 55 + 36 * (version > 6)
    return modules // 8


def held(version: int, level: str) -> int:
    """Codewords of a symbol that hold a text."""
    at = LEVELS.index(level)
    return codewords(version) - _CHECKS[at][version - 1] * _BLOCKS[at][version - 1]


def _bits(text: str, version: int) -> str:
    """Mode, count and text (7.4.3 to 7.4.5), in the one mode that takes all of it and least room."""
    size = 0 if version < 10 else 1 if version < 27 else 2
    if text.isascii() and text.isdigit():
        runs = [text[i : i + 3] for i in range(0, len(text), 3)]
        return f"0001{len(text):0{10 + 2 * size}b}" + "".join(f"{int(r):0{3 * len(r) + 1}b}" for r in runs)
    if all(letter in LETTERS for letter in text):
        at = [LETTERS.index(letter) for letter in text]
        pairs = "".join(f"{45 * a + b:011b}" for a, b in zip(at[::2], at[1::2]))
        return f"0010{len(text):0{9 + 2 * size}b}{pairs}" + (f"{at[-1]:06b}" if len(at) % 2 else "")
    data = text.encode()
    # beyond ASCII the alphabet is named in the code, as readers otherwise guess it
    named = "" if text.isascii() else f"{UTF_8:012b}"
    return f"{named}0100{len(data):0{8 if not size else 16}b}{int.from_bytes(data, 'big'):0{8 * len(data)}b}"


def _padded(bits: str, size: int) -> bytes:
    """Terminator and padding (7.4.9, 7.4.10)."""
    bits += "0" * min(4, 8 * size - len(bits))
    bits += "0" * (-len(bits) % 8)
    made = int(bits, 2).to_bytes(len(bits) // 8, "big")
    return made + (b"\xec\x11" * size)[: size - len(made)]


def _corrected(data: bytes, version: int, level: str) -> bytes:
    """Blocks with their error correction, woven into one another (7.5, 7.6)."""
    at = LEVELS.index(level)
    count, checks = _BLOCKS[at][version - 1], _CHECKS[at][version - 1]
    short, longer = divmod(len(data), count)
    blocks, start = [], 0
    for i in range(count):
        end = start + short + (i >= count - longer)
        blocks.append(data[start:end])
        start = end
    ends = [_check(block, checks) for block in blocks]
    woven = [block[i] for i in range(short + 1) for block in blocks if i < len(block)]
    return bytes(woven) + bytes(byte for row in zip(*ends) for byte in row)


def _check(block: bytes, size: int) -> bytes:
    """The rest of a block after division by the generator polynomial (7.5.2, annex A)."""
    table, rest, top, mask = _multiples(size), 0, 8 * (size - 1), (1 << 8 * size) - 1
    for byte in block:
        rest = rest << 8 & mask ^ table[byte ^ rest >> top]
    return rest.to_bytes(size, "big")


@lru_cache(maxsize=32)
def _multiples(size: int) -> tuple[int, ...]:
    """The generator polynomial of a degree times each byte, its coefficients as the bytes of a number."""
    generator, root = [1], 1
    for _ in range(size):
        generator = [_times(a, root) ^ b for a, b in zip([0, *generator], [*generator, 0])]
        root = _times(root, 2)
    table = [0]
    for bit in range(8):
        row = int.from_bytes(bytes(_times(c, 1 << bit) for c in generator[1:]), "big")
        table += [row ^ other for other in table]
    return tuple(table)


def _times(a: int, b: int) -> int:
    """A product in the field of 256 elements with x^8 + x^4 + x^3 + x^2 + 1."""
    out = 0
    while b:
        out ^= a * (b & 1)
        a = a << 1 ^ 0x11D * (a >> 7)
        b >>= 1
    return out
