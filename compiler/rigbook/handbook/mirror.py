"""A language nobody speaks, for testing: every message in brackets, longer than it was, in letters from right to left.

Whatever stands on a page in Latin letters then comes from the plan, or was never given to the language; and what a
longer text or the other direction does to the layout is seen at once. The letters are Hebrew, chosen one by one
without meaning; the decimal sign is the Arabic one, so that a number that passed the language by is seen as well.
"""

from __future__ import annotations

import datetime
import re
from types import MappingProxyType
from typing import Final

from rigbook.handbook.tongue import Tongue

LANGUAGE: Final = "x-mirror"
OPEN, CLOSE, POINT = "⟦", "⟧", "٫"
LETTERS: Final = MappingProxyType(str.maketrans("abcdefghijklmnopqrstuvwxyz", "אבגדהוזחטיכלמנסעפצקרשתםןףך"))
KEPT: Final = re.compile(r"(`[^`]*`|%\(\w+\)s|%%|\{\w+\}|<[^<>]+>)")
"""Places for values, markup and names as typed."""
LONGER: Final = 0.35
"""Share by which a text grows; short German and French texts grow by about as much."""


def mirrored(message: str) -> str:
    """A message in the mirror's letters."""
    parts = KEPT.split(message)
    said = "".join(p if i % 2 else p.lower().translate(LETTERS) for i, p in enumerate(parts))
    return f"{OPEN}{said}{'·' * max(1, round(len(message) * LONGER))}{CLOSE}"


def tongue(messages: frozenset[str], script: tuple[str, ...]) -> Tongue:
    """The mirror of a catalogue, and the messages in it that scripts use. What the catalogue lacks stays English."""

    def one(message: str) -> str:
        # a sign alone, such as the colon after a word, is no message to mirror
        return mirrored(message) if message in messages and re.search(r"\w", message) else message

    def many(singular: str, plural: str, number: int) -> str:
        return one(singular if number == 1 else plural)

    return Tongue(LANGUAGE, "rtl", one, many, _digits, _day, tuple((said, mirrored(said)) for said in script))


def _digits(number: str) -> str:
    return number.replace(".", POINT)


def _day(date: datetime.date) -> str:
    return f"{OPEN}{date.day}/{date.month}/{date.year}{CLOSE}"
