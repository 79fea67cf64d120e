"""Hostile changes to the bytes of a plan, beyond haste (`damage.py`): the same seed makes the same changes.

Pieces of other plans in the place of own ones, signs of YAML, numbers out of any range, letters that steer a screen,
halves of surrogates, bytes that are no UTF-8, deep nesting, long lines.
"""

from __future__ import annotations

import random
import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from helpers.damage import damaged

SIGNS = (
    "'", '"', ":", ": ", ",", "{", "}", "[", "]", "- ", "? ", "|", ">", "|-\n", "#", " #", "&a ", "*a",
    "!!str ", "!x ", "%",
    "@", "`", "\t", "\n", "\r", "\n\n", "---\n", "...\n", "%YAML 1.3\n", "<<: ", "null", "~", "->", "/", "\\",
    "+", "..", "|\n ",
    "{a: ", "[[", "\n  ", "\n      ", "\\x00", "\\ud800", '"\\0"', '"\\ud83d"', '"\\x1b[31m"', '"a\\nb"', "''",
    '""',
)  # fmt: skip
LETTERS = (
    "\x00", "\x01", "\x07", "\x08", "\x0b", "\x0c", "\x1b", "\x1b[31m", "\x7f", "\x85", "\xa0", "\xad",
    "\u200b", "\u200d",
    "\u200e", "\u202a", "\u202e", "\u2028", "\u2029", "\u2066", "\u2069", "\ufeff", "\ufffe", "\uffff",
    "\U0010ffff", "e\u0301",
    "\u0301", "ß", "ﬁ", "İ", "ı", "ſ", "²", "①", "٣", "०", "½", "Ⅷ", "𝟞", "一", "🎤", "👩‍🎤", "\U000e0041", "－",
    "：", "，", "“", "’", "–",
    "µ", "μ", "Ω", "Ω", "°",
)  # fmt: skip
NUMBERS = (
    "-0", "00", "0x10", "1e308", "1e309", "-1e309", "1e-400", "1_000", "0.1e", "+5", ".5", "5.", "1,5", "NaN",
    ".inf", "-.inf",
    "9" * 400, "9" * 5000, "1" + "0" * 30, "4294967296", "18446744073709551616", "-2147483649", "1/0", "1/3",
    "²", "٣", "1-99999",
    "99999-1", "1-", "-1", "0-0", "1-1", "1 - 2", "2026-02-30", "99999-01-01", "24:60", "-5 dB", "1e308 dB",
    "-400 dB", "1e5 dB",
    "1e300 m", "1e-300 m", "1e300 kg", "0 kg", "1e200 ohm", "1e-200 ohm", "1e300 W", "1e18 Hz", "1e-9 Hz",
    "1e300 ms", "99999 deg",
    "-1e9 degC", "1e9 x 1e9 m", "(0, 0)", "1e300, 1e300",
)  # fmt: skip
HOSTILE = (
    "</style><script>alert(1)</script>", '"><img src=x onerror=alert(1)>', "javascript:alert(1)", "${x}",
    "{{ x }}", "{% x %}",
    "%s", "%(x)s", "%", "%%", "{0}", "{x.y}", "{", "=1+1", "@x", "../../x", "/etc", "C:\\x", "//x/y",
    "file:///x", ".", "..", "-", "__init__",
    "constructor", "__proto__", "CON", "a" * 300, "a b" * 500, "a/" * 200, "a->" * 100, "a, " * 300, "[" * 40,
    "{a: " * 40, "- " * 40,
    "1-9999", "x 1-9999", "a/in 1-9999 -> b/out 1-9999", "&" * 40, "*" * 40, "![x](../x.svg)", "![x](x)",
    "[x](javascript:1)", "# x" * 50,
    "|" * 60, "*_" * 50, "> " * 60, "`" * 30, "![" * 60, "[x](" * 40, "<" * 60,
)  # fmt: skip
ODD = (*SIGNS, *LETTERS, *NUMBERS, *HOSTILE)
LINE = re.compile(r"(\s*)(?:- )?(?:([^:\n]+):)?(.*)")
TOKEN = re.compile(r"[\w.%-]+|[^\w\s]|\s+")


@dataclass(frozen=True)
class Pool:
    """What is put in the place of other things: lines, values and words of plans."""

    lines: tuple[str, ...]
    values: tuple[str, ...]
    words: tuple[str, ...]


def pool_of(texts: Sequence[str]) -> Pool:
    """The pieces of some texts, each once, in a fixed order."""
    lines = {line for text in texts for line in text.split("\n") if line.strip()}
    values = {m[1] for line in lines if (m := re.search(r": (.+)", line))}
    words = {w for line in lines for w in re.findall(r"[\w.%/-]+", line)}
    return Pool(*(tuple(sorted(x)) for x in (lines, values, words)))


def mutated(text: str, chance: random.Random, pool: Pool) -> bytes:
    """A text with one to eight changes, as bytes."""
    for _ in range(chance.choice((1, 1, 1, 2, 2, 3, 5, 8))):
        text = chance.choice(CHANGES)(chance, text, pool)
    data = text[:60_000].encode("utf-8", "surrogatepass")
    return chance.choice(BYTES)(chance, data) if chance.random() < 0.06 else data


Change = Callable[[random.Random, str, Pool], str]


def _at(chance: random.Random, text: str, new: str, cut: int = 0) -> str:
    at = chance.randrange(len(text) + 1)
    return text[:at] + new + text[at + cut :]


def _odd(chance: random.Random, text: str, pool: Pool) -> str:
    return _at(chance, text, chance.choice(ODD), chance.choice((0, 0, 0, 1, 3)))


def _token(chance: random.Random, text: str, pool: Pool) -> str:
    found = list(TOKEN.finditer(text))
    if not found:
        return text
    one = chance.choice(found)
    new = chance.choice((chance.choice(ODD), chance.choice(pool.words), chance.choice(found)[0], "", one[0] * 2))
    return text[: one.start()] + new + text[one.end() :]


def _value(chance: random.Random, text: str, pool: Pool) -> str:
    found = list(re.finditer(r": ([^\n,{}\[\]]+)", text))
    if not found:
        return text
    one = chance.choice(found)
    other = chance.choice(found)[1]
    new = chance.choice((chance.choice(ODD), chance.choice(NUMBERS), chance.choice(pool.values), other))
    return text[: one.start(1)] + new + text[one.end(1) :]


def _number(chance: random.Random, text: str, pool: Pool) -> str:
    found = list(re.finditer(r"\d+(?:\.\d+)?", text))
    if not found:
        return text
    one = chance.choice(found)
    return text[: one.start()] + chance.choice((*NUMBERS, "0", "1", "7", "64", "100000")) + text[one.end() :]


def _line(chance: random.Random, text: str, pool: Pool) -> str:
    lines = text.split("\n")
    at = chance.randrange(len(lines))
    how = chance.randrange(6)
    if how == 0:
        lines.insert(at, chance.choice(pool.lines))
    elif how == 1:
        lines[at] = chance.choice(pool.lines)
    elif how == 2:
        del lines[at : at + chance.choice((1, 2, 5))]
    elif how == 3:
        lines.insert(chance.randrange(len(lines)), lines[at])
    elif how == 4:
        lines[at] = " " * chance.randrange(9) + lines[at].lstrip()
    else:
        lines[at] = lines[at] + chance.choice(ODD)
    return "\n".join(lines)


def _letter(chance: random.Random, text: str, pool: Pool) -> str:
    letter = chr(chance.choice((chance.randrange(32, 127), chance.randrange(0x110000))))
    return _at(chance, text, letter, chance.randrange(2))


def _cut(chance: random.Random, text: str, pool: Pool) -> str:
    a, b = sorted((chance.randrange(len(text) + 1), chance.randrange(len(text) + 1)))
    return text[:a] + text[b:] if b - a < 200 or chance.random() < 0.1 else text[:a] + text[a + 40 :]


def _deep(chance: random.Random, text: str, pool: Pool) -> str:
    depth = chance.choice((10, 14, 200, 2000))
    new = chance.choice(("[" * depth, "{a: " * depth, "\n" + "".join(f"{' ' * i}a:\n" for i in range(depth % 41)),
                         "- " * depth, "? " * depth, "[" * depth + "]" * depth, "x" * depth * 5))
    return _at(chance, text, new)


def _damage(chance: random.Random, text: str, pool: Pool) -> str:
    return damaged(text, chance, pool.words)


CHANGES: tuple[Change, ...] = (
    _odd, _odd, _token, _token, _token, _value, _value, _value, _number, _line, _line, _letter, _cut, _damage,
    _damage, _deep,
)  # fmt: skip


def _flip(chance: random.Random, data: bytes) -> bytes:
    made = bytearray(data)
    for _ in range(chance.choice((1, 2, 8)) if made else 0):
        made[chance.randrange(len(made))] ^= 1 << chance.randrange(8)
    return bytes(made)


def _marks(chance: random.Random, data: bytes) -> bytes:
    return chance.choice((b"\xef\xbb\xbf", b"\xff\xfe", b"\xfe\xff", b"\0", b"\xef\xbb\xbf\xef\xbb\xbf")) + data


def _latin(chance: random.Random, data: bytes) -> bytes:
    return data.decode("utf-8", "replace").encode("latin-1", "replace")


def _wide(chance: random.Random, data: bytes) -> bytes:
    return data.decode("utf-8", "replace").encode("utf-16")


BYTES: tuple[Callable[[random.Random, bytes], bytes], ...] = (_flip, _flip, _flip, _marks, _latin, _wide)
