"""The language that the handbook's own words are in: headings, columns, steps, cautions. What the plan says stays."""

from __future__ import annotations

import datetime
from collections.abc import Callable, Iterable
from typing import Any, Final

from rigbook.compute.figure import Figure, Missing
from rigbook.records import frozen
from rigbook.text.phrase import Phrase, phrase, tightened
from rigbook.units.quantity import MINUS, Amount, Quantity
from rigbook.units.told import Told

DAYS: Final = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
MONTHS: Final = (
    *("January", "February", "March", "April", "May", "June", "July"),
    *("August", "September", "October", "November", "December"),
)


def _as_it_is(text: str) -> str:
    return text


def _day(date: datetime.date) -> str:
    return f"{DAYS[date.weekday()]} {date.day} {MONTHS[date.month - 1]} {date.year}"


@frozen
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
    digits: Callable[[str], str] = _as_it_is
    """A number written with a point, as this language writes it."""
    day: Callable[[datetime.date], str] = _day
    """A date with the day of the week: `Saturday 6 February 2027`."""
    script: tuple[tuple[str, str], ...] = ()
    """Messages that scripts use, and their texts; none in English, which scripts hold themselves."""

    @property
    def arrow(self) -> str:
        """The arrow that points the way that is read."""
        return "←" if self.direction == "rtl" else "→"

    def say(self, message: str, /, **values: Any) -> str:
        """A message in this language, with its values put in; a phrase of another room with those it holds."""
        if isinstance(message, Phrase) and not values and message != message.message:
            return str(self.words(message))
        return self.one(message) % self._filled(values) if values else self.one(message)

    def count(self, number: int, singular: str, plural: str, /, **values: Any) -> str:
        """A message that counts, such as `%(num)s cable` and `%(num)s cables`."""
        return self.many(singular, plural, number) % self._filled({"num": number, **values})

    def _filled(self, values: dict[str, Any]) -> dict[str, Any]:
        return {name: self.words(value) for name, value in values.items()}

    def words(self, text: Any) -> Any:
        """What another room said in English, in this language: phrases, amounts and numbers with a point.

        Whatever else it is given (text of the plan, whole numbers, HTML) comes back as it is.
        """
        if isinstance(text, Phrase):
            said = self._phrase(text)
            return tightened(said) if text.tight else said
        if isinstance(text, Told):
            return self.say(text.message, **text.values)
        if isinstance(text, Amount):
            return self.amount(text)
        if isinstance(text, Quantity):
            return self.amount(text.page())
        if isinstance(text, float):
            return self.number(f"{text:g}")
        if isinstance(text, (Figure, Missing)):
            return self.words(text.text if isinstance(text, Figure) else text.why)
        return text

    def _phrase(self, text: Phrase) -> str:
        if self.language == "en" and (text.typed or text.plain):
            return str(text)
        if text.parts:
            return self.sign(text.joint).join(str(self.words(part)) for part in text.parts)
        if not text.message:
            return str(text)
        if text.plural:
            return self.count(text.number, text.message, text.plural, **text.values)
        if text.named:
            return self.one(text.message).format(**self._filled(dict(text.named)))
        return self.say(text.message, **text.values)

    def sign(self, joint: str) -> str:
        """What stands between two texts, `; ` or `: `, with the spaces that this language sets around it."""
        return joint if joint not in ("; ", ": ") else f"{self.one(joint[0])} "

    def amount(self, amount: str) -> str:
        """A number with its unit as this language writes it; a text that was typed stays."""
        if not isinstance(amount, Amount):
            return amount
        if self.language == "en":
            return str(amount)
        number = self.number(amount.amount)
        unit = self.unit(amount.unit)
        text = number + unit if unit in ("", "°") else f"{number}\u00a0{unit}"
        # isolated, so that number and unit stay in order where the text runs the other way (Unicode UAX 9)
        return f"\u2066{text}\u2069" if self.direction == "rtl" and unit else text

    def number(self, number: str) -> str:
        """A number written with a point and a hyphen for minus, as this language writes it."""
        said = self.digits(number).replace("-", MINUS)
        # a sign keeps to the left of its digits where the text runs the other way (U+200E, as CLDR has it)
        return f"\u200e{said}" if self.direction == "rtl" and said[:1] in (MINUS, "+") else said

    def unit(self, symbol: str) -> str:
        """The symbol of a unit; those that are abbreviated words have one in each language."""
        return self.one(symbol) if symbol in UNITS else symbol

    def deep(self, data: Any) -> Any:
        """A tree of lists and mappings, such as the facts for a script, with every phrase in this language."""
        if isinstance(data, dict):
            return {self.words(key): self.deep(value) for key, value in data.items()}
        if isinstance(data, (list, tuple)):
            return [self.deep(value) for value in data]
        return data if isinstance(data, float) else self.words(data)

    def listed(self, parts: Iterable[str]) -> str:
        """Several texts in a row, each in this language."""
        return ", ".join(str(self.words(part)) for part in parts)


UNITS: Final = (phrase("dB/oct"), phrase("U"), phrase("h"), phrase("min"), phrase("octaves"))
"""Units whose symbol is a word."""


def _counted(singular: str, plural: str, number: int) -> str:
    return singular if number == 1 else plural


ENGLISH: Final = Tongue("en", "ltr", _as_it_is, _counted)
