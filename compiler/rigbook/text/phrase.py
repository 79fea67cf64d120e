"""English words that remember what they were made of, so that a page can say them in another language.

A phrase is the English text and nothing else to whoever compares, sorts, files or prints it. The rooms below the
handbook make phrases and know no language; the handbook's tongue takes them apart again and says them anew.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from types import MappingProxyType
from typing import Any, Final

NOTHING: Final[Mapping[str, Any]] = MappingProxyType({})


class Phrase(str):
    """An English text with its message and values; or several texts in a row."""

    message: str = ""
    """As it stands in the catalogue: `%(num)s cable`; empty for several texts in a row."""
    plural: str = ""
    """The message for more than one; empty where nothing is counted."""
    number: int = 1
    values: Mapping[str, Any] = NOTHING
    parts: tuple[str, ...] = ()
    joint: str = ""
    named: Mapping[str, Any] = NOTHING
    """Values that stand in the message as `{name}`."""
    tight: bool = False
    """True where no line may break between a number and its unit."""
    typed: bool = False
    """True where the English text is what a user typed; its parts say the same in another language."""

    @property
    def plain(self) -> bool:
        """True where nothing in it is written in a way of its own by a language: no amounts, no fractions. Said anew
        in English it is the same text.
        """
        if self.named:
            return False
        if not self.parts and not self.values:
            return True
        # remembered by hand: `cached_property` of CPython 3.11 takes a lock, for each of ten thousand texts of a build
        known = self.__dict__.get("_plain")
        if known is None:
            inside = (*self.parts, *self.values.values())
            known = all(type(v) in (str, int) or (isinstance(v, Phrase) and v.plain) for v in inside)
            self.__dict__["_plain"] = known
        return bool(known)

    def format(self, *args: object, **values: object) -> Phrase:
        """With the values that stand in it as `{name}`, which a page and a script may both put in."""
        made = Phrase(str(self).format(*args, **values))
        made.message, made.named = self.message, values
        return made


def phrase(message: str, /, **values: Any) -> Phrase:
    """A message with its values, which stand in it as `%(name)s`."""
    made = Phrase(message % values if values else message)
    made.message = message
    if values:
        made.values = values
    return made


def counted(number: int, singular: str, plural: str, /, **values: Any) -> Phrase:
    """A message that counts, such as `%(num)s cable` and `%(num)s cables`."""
    filled = {"num": number, **values}
    made = Phrase((singular if number == 1 else plural) % filled)
    made.message, made.plural, made.number, made.values = singular, plural, number, filled
    return made


def joined(parts: Iterable[str], joint: str = ", ") -> Phrase:
    """Several texts in a row."""
    row = tuple(parts)
    made = Phrase(joint.join(row))
    made.parts, made.joint = row, joint
    return made


def listed(parts: Iterable[str]) -> str:
    """Several texts as said in a sentence: `a, b and c`; empty where there is none."""
    *first, last = (*parts,) or ("",)
    return phrase("%(a)s and %(b)s", a=joined(first), b=last) if first else last


def both(parts: Iterable[str]) -> str:
    """Several texts with a word between each two of them: `a and b and c`; empty where there is none."""
    out, *rest = (*parts,) or ("",)
    for part in rest:
        out = phrase("%(a)s and %(b)s", a=out, b=part)
    return out


def either(parts: Iterable[str]) -> str:
    """Several texts to choose from: `a or b or c`; empty where there is none."""
    out, *rest = (*parts,) or ("",)
    for part in rest:
        out = phrase("%(a)s or %(b)s", a=out, b=part)
    return out


def quoted(names: Iterable[str]) -> str:
    """Names in backticks, as said in a sentence."""
    return listed(f"`{name}`" for name in names)


def typed(text: str, parts: Iterable[str], joint: str = ", ") -> Phrase:
    """A text as it was typed, and what it says in parts, for another language."""
    made = Phrase(text)
    made.parts, made.joint, made.typed = tuple(parts), joint, True
    return made


def held(text: str) -> Phrase:
    """The text, in which no line may break between a number and its unit, in whatever language."""
    if isinstance(text, Phrase):
        made = held(str(text))
        made.message, made.plural, made.number, made.values = text.message, text.plural, text.number, text.values
        made.parts, made.joint, made.named = text.parts, text.joint, text.named
        return made
    made = Phrase(tightened(text))
    made.parts, made.tight = (text,), True
    return made


def tightened(text: str) -> str:
    """A text in which no line breaks between a number and its unit."""
    return re.sub(r"(?<=\d) (?=[A-Za-z])", "\u00a0", text)
