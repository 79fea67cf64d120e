"""The one record of something found in a plan."""

from __future__ import annotations

from collections.abc import Iterable
from enum import IntEnum

from rigbook.findings.place import Span
from rigbook.records import frozen


class Severity(IntEnum):
    """How bad it is. Error: will not work, or can break equipment or hurt someone."""

    NOTE = 1
    WARNING = 2
    ERROR = 3

    @property
    def word(self) -> str:
        """The word printed: note, warning or error."""
        return self.name.lower()


@frozen
class Label:
    """A place and what is to be seen there, in a few words."""

    span: Span
    text: str = ""


@frozen
class Finding:
    """One fault, one message.

    `message` states the fact and stands alone in a list; `effect` says what happens on stage; `remedy` says
    what to do with the user's own names. `objects` are the names of the things at fault, used to drop the
    consequence of another finding (`checks/run.py`).
    """

    check: str
    severity: Severity
    message: str
    primary: Label
    secondary: tuple[Label, ...] = ()
    path: str = ""
    effect: str = ""
    remedy: str = ""
    objects: frozenset[str] = frozenset()


def in_order(findings: Iterable[Finding]) -> list[Finding]:
    """Sorted by place, then severity (worst first), then name: the order in which every renderer prints."""
    return sorted(findings, key=lambda f: (f.primary.span, -f.severity, f.check, f.message))
