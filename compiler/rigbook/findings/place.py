"""Places in plan files: where a thing was written.

Lines and columns are 0-based everywhere inside; `Span.one_based()` is the one function that turns them into the
1-based numbers that people and other programs read.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cached_property
from typing import NamedTuple

from rigbook.records import frozen


class Span(NamedTuple):
    """A stretch of text in a file: from (line, column) up to, not including, (end_line, end_column); 0-based."""

    file: str
    """Path relative to the repository root of the plan, with `/`; `gear:…` for the shipped library."""
    line: int
    column: int
    end_line: int
    end_column: int

    def one_based(self) -> tuple[int, int, int, int]:
        """(line, column, end line, end column), 1-based; the end column is the one behind the last character."""
        return self.line + 1, self.column + 1, self.end_line + 1, self.end_column + 1

    def human(self) -> str:
        """`file:line:column`, 1-based."""
        line, column, _, _ = self.one_based()
        return f"{self.file}:{line}:{column}"

    def within(self, start: int, length: int) -> Span:
        """The part of a one-line span that begins `start` characters in and is `length` long."""
        column = self.column + start
        return Span(self.file, self.line, column, self.line, column + length)


NOWHERE = Span("", 0, 0, 0, 0)


@frozen
class Source:
    """One plan file as read: its name (as in `Span.file`) and its text."""

    file: str
    text: str
    readable: bool = True
    """False where a finding has said that the file is no text; then there is nothing to read in it."""

    @cached_property
    def lines(self) -> tuple[str, ...]:
        """The text split at line ends."""
        return tuple(self.text.split("\n"))


Sources = Mapping[str, Source]
