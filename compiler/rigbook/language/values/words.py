"""Plain values: a short text, a note in Markdown, yes or no, a whole number, one of a few words."""

from __future__ import annotations

import re
from collections.abc import Callable
from types import MappingProxyType
from typing import Any

from rigbook.findings.place import Span
from rigbook.findings.suggest import meant, near
from rigbook.language.reading import Parsed, Reading, Schema, matching, wrong_shape
from rigbook.records import frozen
from rigbook.text.phrase import either, joined, phrase
from rigbook.text.tree import Node, Scalar
from rigbook.units.parse import Problem


def _text(text: str, span: Span) -> Any:
    return text.strip() or Problem(
        phrase("the value is empty"), phrase("write something here, or leave the key out"), 0, 0
    )


TEXT = Parsed(phrase("a short text"), _text, r"\S", bare=True, name="text")


@frozen
class NoteText:
    """Markdown. The value is the text with its place; it is rendered where it is shown."""

    words: str = phrase("a text (Markdown)")
    name: str = "note-text"

    def read(self, node: Node, reading: Reading) -> Any:
        return node if isinstance(node, Scalar) else wrong_shape(node, self.words, reading)

    def schema(self) -> Schema:
        return {"$ref": f"#/$defs/{self.name}"}

    def definition(self) -> Schema:
        """The JSON Schema itself, for `$defs`."""
        return {"type": ["string", "number", "boolean", "null"]}


NOTE = NoteText()

_YES = MappingProxyType({"yes": True, "on": True, "true": True, "no": False, "off": False, "false": False})
_SAID = MappingProxyType({"y": True, "ja": True, "oui": True, "x": True, "n": False, "nein": False, "non": False})
"""What is typed in other tongues and in forms; told, and read as meant."""


def _yes_no(text: str, span: Span) -> Any:
    value = _YES.get(text.lower())
    near_yes = "yes" if text.lower() in ("ys", "ye", "es", "yse", "eys", "yess", "yed", "tes") else ""
    said = _SAID.get(text.lower(), _YES.get(meant(text.lower(), _YES) or near_yes))
    if value is None and said is not None:
        return Problem(
            phrase("`%(value)s` is neither yes nor no", value=text),
            phrase("write `%(line)s`", line="yes" if said else "no"),
            0,
            len(text),
            said,
        )
    if value is None:
        return Problem(
            phrase("`%(value)s` is neither yes nor no", value=text), phrase("write `yes` or `no`"), 0, len(text)
        )
    return value


@frozen
class YesNo(Parsed):
    """`yes` or `no` (`on`, `off`, `true`, `false` mean the same here, and only here)."""

    words: str = phrase("`yes` or `no`")
    parse: Callable[[str, Span], Any] = _yes_no
    name: str = "yes-or-no"

    def definition(self) -> Schema:
        either_case = "|".join("".join(f"[{c.upper()}{c}]" for c in word) for word in _YES)
        return matching(f"^(?:{either_case})$", self.words, ["string", "boolean"])


YES_NO = YesNo()


def _whole(text: str, span: Span) -> Any:
    if not re.fullmatch(r"[0-9]{1,6}", text):
        return Problem(
            phrase("`%(value)s` is not a whole number", value=text), phrase("write a number such as `12`"), 0, len(text)
        )
    return int(text)


@frozen
class Whole(Parsed):
    """A count."""

    words: str = phrase("a whole number")
    parse: Callable[[str, Span], Any] = _whole
    name: str = "count"

    def definition(self) -> Schema:
        return {**matching("^[0-9]{1,6}$", self.words, ["integer", "string"]), "minimum": 0, "maximum": 999999}


WHOLE = Whole()


@frozen
class OneOf:
    """One of a few whole numbers."""

    options: tuple[int, ...]

    @property
    def words(self) -> str:
        return either(f"`{number}`" for number in self.options)

    def read(self, node: Node, reading: Reading) -> Any:
        if not isinstance(node, Scalar):
            return wrong_shape(node, self.words, reading)
        if node.text in map(str, self.options):
            return int(node.text)
        known = phrase("`%(value)s` is not known here", value=node.text)
        return reading.fault("wrong-value", node.span, known, phrase("write %(words)s", words=self.words))

    def schema(self) -> Schema:
        return {"enum": [*self.options, *map(str, self.options)]}


@frozen
class Number(Parsed):
    """A number without a unit, between `least` and `most`."""

    least: float = 0
    most: float = 0

    def definition(self) -> Schema:
        return {**super().definition(), "type": ["string", "number"], "minimum": self.least, "maximum": self.most}


@frozen
class Choice:
    """One of a few words."""

    options: tuple[str, ...]
    unsaid: tuple[str, ...] = ()
    """Options that are taken and offered to nobody."""

    @property
    def words(self) -> str:
        return phrase("one of %(names)s", names=joined(f"`{o}`" for o in self.options))

    def read(self, node: Node, reading: Reading) -> Any:
        if not isinstance(node, Scalar):
            return wrong_shape(node, self.words, reading)
        if node.text in (*self.options, *self.unsaid):
            return node.text
        close = near(node.text, self.options)
        fix = phrase("write `%(line)s`", line=close[0]) if close else phrase("write %(words)s", words=self.words)
        lost = reading.fault("wrong-value", node.span, phrase("`%(value)s` is not known here", value=node.text), fix)
        return meant(node.text, self.options) or lost

    def schema(self) -> Schema:
        return {"enum": [*self.options, *self.unsaid]}
