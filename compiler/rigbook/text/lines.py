"""One line of a plan file, looked at by hand: its quotes, brackets and colons. Used only once YAML has failed."""

from __future__ import annotations

import re
from types import MappingProxyType

from rigbook.records import changing, field

KEY = re.compile(
    r"""(?P<lead>\s*(?:-\s+)*)(?P<key>[^\s#'"\[\]{},&*!|>%@`:-][^:#'"\[\]{}]*?|'[^']*'|"[^"]*")\s*:(?=\s|$)"""
)
"""A line that begins with a key; dashes of list items may stand before it."""

TIGHT_KEY = re.compile(r"\s*(?:-\s+)*(?P<key>[A-Za-z0-9][\w -]{0,80}):(?=[^\s/])")
"""A line that begins with a key, a colon, and no space behind it. (`http://` is none.)"""

DASHES = re.compile(r"\s*(?:-\s+)*-(?=\s|$)")
"""The dashes that a line of a list begins with."""

MAX_LOOK = 2000
"""Characters of a line that are looked at."""

_PAIRS = MappingProxyType({"]": "[", "}": "{"})


@changing
class Line:
    """What stands where in one line. Columns are 0-based."""

    text: str
    colons: list[int] = field(default_factory=list)
    """Colons that end a key: outside quotes and brackets, followed by a space or nothing."""
    quotes: dict[int, int] = field(default_factory=dict)
    """Opening quote to closing quote; -1 where the line has no closing one."""
    brackets: dict[int, int] = field(default_factory=dict)
    """Opening bracket to closing bracket; -1 where the line has no closing one."""
    end: int = 0
    """Where the text ends: before a comment and the spaces in front of it."""

    @property
    def indent(self) -> int:
        """Spaces and tabs in front."""
        return len(self.text) - len(self.text.lstrip(" \t"))

    @property
    def content(self) -> str:
        """The text without indentation and comment."""
        return self.text[: self.end].strip()

    def open_quote(self) -> int | None:
        """The column of a quote that is not closed on this line."""
        return next((a for a, b in self.quotes.items() if b < 0), None)

    def open_bracket(self) -> int | None:
        """The column of the last bracket that is not closed on this line."""
        return next((a for a, b in reversed(self.brackets.items()) if b < 0), None)

    def closing_quote(self, column: int) -> int | None:
        """The opening quote of the pair whose closing quote stands at `column`."""
        return next((a for a, b in self.quotes.items() if b == column), None)

    def value(self) -> tuple[int, str]:
        """Column and text of what follows the first colon, or the dash, or the indentation."""
        start = self.colons[0] + 1 if self.colons else self.indent
        while start < self.end and (self.text[start] in " \t" or self.text[start : start + 2] == "- "):
            start += 1
        return start, self.text[start : self.end]


def look(text: str) -> Line:
    """Take a line apart."""
    text = text[:MAX_LOOK]
    line = Line(text, end=len(text.rstrip()))
    opened: list[int] = []
    fresh, at = True, 0  # fresh: a value may begin here, so a quote or a bracket counts
    while at < len(text):
        sign = text[at]
        after = text[at + 1 : at + 2]
        if sign == "#" and (at == 0 or text[at - 1] in " \t"):
            line.end = len(text[:at].rstrip())
            break
        if fresh and sign in "'\"":
            at = _quoted(line, at)
            fresh = False
        elif sign in "[{" and (fresh or opened):
            opened.append(at)
            line.brackets[at] = -1
        elif sign in "]}" and opened and text[opened[-1]] == _PAIRS[sign]:
            line.brackets[opened.pop()] = at
            fresh = False
        elif sign == ":" and after in ("", " ", "\t"):
            if not opened:
                line.colons.append(at)
            fresh = True
        elif sign == "," and opened:
            fresh = True
        elif sign not in " \t" and not (sign == "-" and after == " " and fresh):
            fresh = False
        at += 1
    return line


def _quoted(line: Line, start: int) -> int:
    """Note the quoted text that begins at `start`; the column of its last character."""
    text, quote, at = line.text, line.text[start], start + 1
    while at < len(text):
        if quote == '"' and text[at] == "\\":
            at += 1
        elif text[at] == quote:
            if quote == "'" and text[at + 1 : at + 2] == "'":
                at += 1
            else:
                line.quotes[start] = at
                return at
        at += 1
    line.quotes[start] = -1
    return len(text)
