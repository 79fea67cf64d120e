"""Commas inside braces that end a value too early: `{at: 2 m left, 3 m back}`, `{at: 2,6 m up}`, `{to: main, -10 dB}`.

YAML takes what stands behind the comma for a key without a value. A user means one value, so one finding tells it, and
its remedy writes the value whole.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator

from rigbook.findings.place import Span
from rigbook.records import frozen
from rigbook.text.phrase import phrase
from rigbook.text.tree import Mapping, Scalar

_GOES_ON = re.compile(r"[-+\u2212]?\.?\d")
"""How the rest of a cut value begins; keys of the language begin with a letter."""
_WHOLE = re.compile(r"(?:^|[^\d.,])\d+$")
_DECIMALS = re.compile(r"\d+(?!\.?\d)")
_COMMA = re.compile(r"(?<![\d.,])([0-9]+),([0-9]+)(?![\d.,])")


@frozen
class Cut:
    """A value of `key` that commas cut: its `rest` came as keys of their own, the first of them at `span`."""

    key: str
    rest: tuple[str, ...]
    span: Span
    whole: str
    """The value as it can stand in braces."""
    decimal: bool
    """True where a comma stands for the point in a number."""

    @property
    def message(self) -> str:
        """What the comma does."""
        if self.decimal:
            return phrase("the comma in a number ends the value of `%(key)s`, as it stands in braces", key=self.key)
        return phrase(
            "the comma before `%(rest)s` ends the value of `%(key)s`, as it stands in braces",
            rest=self.rest[0],
            key=self.key,
        )

    @property
    def remedy(self) -> str:
        """What to write."""
        how = phrase("write the number with a point") if self.decimal else phrase("leave the comma out")
        if self.whole.startswith("["):
            how = phrase("put brackets around the list")
        return phrase("%(how)s: `%(line)s`", how=how, line=f"{self.key}: {self.whole}")


def cuts(node: Mapping, known: Collection[str], lists: Collection[str]) -> Iterator[Cut]:
    """Every cut value of a group with the keys `known`, of which `lists` may hold a list between brackets."""
    names = list(node.items)
    at = 0
    while at < len(names):
        first, at = names[at], at + 1
        value = node.items[first]
        if first not in known or not isinstance(value, Scalar) or not value.plain or not value.text:
            continue
        rest = []
        while at < len(names) and _goes_on(names[at], node, value.span.end_line, known, first in lists):
            rest.append(names[at])
            at += 1
        if rest:
            yield _cut(node, first, value, rest)


def _goes_on(name: str, node: Mapping, line: int, known: Collection[str], listed: bool) -> bool:
    value = node.items[name]
    empty = isinstance(value, Scalar) and value.plain and not value.text
    if not empty or node.keys[name].line != line or name.partition(" ")[0] in known:
        return False
    return bool(_GOES_ON.match(name)) or (listed and bool(re.match(r"[a-z]", name)))


def _cut(node: Mapping, first: str, value: Scalar, rest: list[str]) -> Cut:
    whole, end, decimal, items = value.text, value.span.end_column, False, False
    for name in rest:
        span = node.keys[name]
        if span.column == end + 1 and _WHOLE.search(whole) and _DECIMALS.match(name):
            decimal, whole = True, f"{whole}.{name}"
        elif _GOES_ON.match(name):
            whole = f"{whole} {name}"
        else:
            items, whole = True, f"{whole}, {name}"
        end = span.end_column
    return Cut(first, tuple(rest), node.keys[rest[0]], f"[{whole}]" if items else whole, decimal)


def with_points(text: str) -> str | None:
    """The text with a point in each number that has a comma: `8 x 6 x 0,9 m`; None where none has one."""
    out = _COMMA.sub(r"\1.\2", text)
    return out if out != text else None
