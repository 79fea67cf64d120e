"""What is known about one mistake of form in YAML: the parser's words in, our words and a way to read on out."""

from __future__ import annotations

from enum import Enum

from rigbook.records import frozen
from rigbook.text.lines import Line, look


class Mend(Enum):
    """How the text is mended so that reading can go on."""

    VALUE = 1
    """Keep the key, drop its value, and the deeper lines below."""
    LINE = 2
    """Drop the line, and the deeper lines below."""
    COLON = 3
    """Cut the line at `end` and put a colon there."""
    TABS = 4
    """Put spaces for the tabs in front of `lines`."""
    INDENT = 5
    """Move `line`, and `lines` with it, so that it begins at `indent`."""
    TEXT = 6
    """Put `text` for the line."""


@frozen
class Trouble:
    """What the parser says: the lines as they are, its words, and its two places (where it was, where it began)."""

    lines: list[str]
    problem: str
    context: str
    line: int
    column: int
    from_line: int
    from_column: int

    def at(self, line: int) -> Line:
        """A line taken apart."""
        return look(self.lines[line])

    def here(self) -> Line:
        """The line at which the parser gave up."""
        return self.at(self.line)

    def above(self, line: int) -> int | None:
        """The next line above that is not empty and no comment."""
        return next((i for i in range(line - 1, -1, -1) if self.at(i).content), None)

    def below(self, line: int) -> int | None:
        """The next line below that is not empty and no comment."""
        return next((i for i in range(line + 1, len(self.lines)) if self.at(i).content), None)


@frozen
class Mistake:
    """One mistake: where, what, what to do, and how to read on."""

    line: int
    start: int
    end: int
    message: str
    remedy: str
    mend: Mend = Mend.VALUE
    check: str = "yaml-syntax"
    label: str = ""
    lines: tuple[int, ...] = ()
    """All lines that have the same mistake and are reported with it."""
    deeper_than: int | None = None
    """Lines below with more spaces in front than this go as well; by default, than the line itself."""
    indent: int = 0
    text: str = ""


def clip(text: str, width: int = 40) -> str:
    """A piece of the plan between backticks, cut where it is long."""
    text = " ".join(text.split())
    return f"`{text if len(text) <= width else text[: width - 1] + '…'}`"


def in_quotes(word: str) -> str:
    """A text between the quotes that need nothing changed inside."""
    return f"'{word}'" if '"' in word or "\\" in word else f'"{word}"'
