"""The language that the handbook's own words are in: headings, columns, steps, cautions. What the plan says stays."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, Final


@dataclass(frozen=True)
class Tongue:
    """One language. Messages are the English texts; values stand in them as `%(name)s`."""

    language: str
    """BCP 47: `en`, `de`."""
    direction: str
    """`ltr` or `rtl`, as the `dir` attribute takes it."""
    one: Callable[[str], str]
    """A message in this language."""
    many: Callable[[str, str, int], str]
    """The singular or plural of a message, as this language counts."""

    def say(self, message: str, **values: Any) -> str:
        """A message in this language, with its values put in."""
        return self.one(message) % values if values else self.one(message)

    def count(self, number: int, singular: str, plural: str, **values: Any) -> str:
        """A message that counts, such as `%(num)s cable` and `%(num)s cables`."""
        return self.many(singular, plural, number) % {"num": number, **values}


def _same(message: str) -> str:
    return message


def _counted(singular: str, plural: str, number: int) -> str:
    return singular if number == 1 else plural


ENGLISH: Final = Tongue("en", "ltr", _same, _counted)
