"""Damage to the text of a plan, as haste and half-finished edits do it: the same seed does the same damage."""

from __future__ import annotations

import random
import re
from collections.abc import Callable, Sequence

ODD = (
    "", "0", "-1", "1e999", "99999999999", "nan", "null", "~", "[]", "{}", "''", "é", "\t", "&a", "*a", "!x",
    "- ", "? ", "|", ": ", "0 m", "-3 dB", "inf", "1e-400 m", "0 Hz", "0 ohm", "0 W", "0 A", "0 h", "0 ms",
    "1e308 m", "0 x 0 m", "360 deg", "-0 m", "999999 km",
)  # fmt: skip
WORD = r"[a-z][a-z0-9-]+"
Change = Callable[[random.Random, list[str], int, Sequence[str]], None]


def words_of(texts: Sequence[str]) -> list[str]:
    """Names and keys that some texts use."""
    return sorted({word for text in texts for word in re.findall(WORD, text)})


def damaged(text: str, chance: random.Random, words: Sequence[str]) -> str:
    """A text with one to six changes. `words` are put in place of others."""
    lines = text.split("\n")
    for _ in range(chance.choice((1, 1, 1, 2, 3, 6))):
        if not lines:
            break
        chance.choice(CHANGES)(chance, lines, chance.randrange(len(lines)), words)
    return "\n".join(lines)


def _lost(chance: random.Random, lines: list[str], at: int, words: Sequence[str]) -> None:
    del lines[at : at + chance.choice((1, 1, 1, 4, 12))]


def _cut(chance: random.Random, lines: list[str], at: int, words: Sequence[str]) -> None:
    del lines[at:]


def _twice(chance: random.Random, lines: list[str], at: int, words: Sequence[str]) -> None:
    lines.insert(at, lines[at])


def _elsewhere(chance: random.Random, lines: list[str], at: int, words: Sequence[str]) -> None:
    other = chance.randrange(len(lines))
    lines[at], lines[other] = lines[other], lines[at]


def _numbers(chance: random.Random, lines: list[str], at: int, words: Sequence[str]) -> None:
    numbers = (*ODD, "0", "1", "2", "7", "64", "1000000", "0.0001")
    lines[at] = re.sub(
        r"-?\d+(\.\d+)?", lambda m: chance.choice(numbers) if chance.random() < 0.5 else m[0], lines[at]
    )


def _word(chance: random.Random, lines: list[str], at: int, words: Sequence[str]) -> None:
    found = list(re.finditer(WORD, lines[at]))
    if found:
        one = chance.choice(found)
        lines[at] = lines[at][: one.start()] + chance.choice(words) + lines[at][one.end() :]


def _sign(chance: random.Random, lines: list[str], at: int, words: Sequence[str]) -> None:
    found = [m.start() for m in re.finditer(r"[,:{}\[\]>-]", lines[at])]
    if found:
        one = chance.choice(found)
        lines[at] = lines[at][:one] + lines[at][one + 1 :]


def _odd(chance: random.Random, lines: list[str], at: int, words: Sequence[str]) -> None:
    one = chance.randrange(len(lines[at]) + 1)
    lines[at] = lines[at][:one] + chance.choice(ODD) + lines[at][one:]


def _part(chance: random.Random, lines: list[str], at: int, words: Sequence[str]) -> None:
    parts = lines[at].split(", ")
    if len(parts) > 1:
        del parts[chance.randrange(len(parts))]
        lines[at] = ", ".join(parts)


def _side(chance: random.Random, lines: list[str], at: int, words: Sequence[str]) -> None:
    lines[at] = lines[at].replace(*chance.choice((("left", "right"), ("out", "in"), ("in", "out"))))


def _value(chance: random.Random, lines: list[str], at: int, words: Sequence[str]) -> None:
    found = re.search(r": (.+)", lines[at])
    if found:
        lines[at] = lines[at][: found.start(1)] + chance.choice((*ODD, *words))


def _indent(chance: random.Random, lines: list[str], at: int, words: Sequence[str]) -> None:
    lines[at] = " " * chance.randrange(5) + lines[at]


CHANGES: tuple[Change, ...] = (
    _lost, _cut, _twice, _elsewhere, _numbers, _word, _sign, _odd, _part, _side, _value, _indent,
)  # fmt: skip
