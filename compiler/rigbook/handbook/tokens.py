"""The tokens of a theme: which colour each has when the reader's device is light or dark, and where that is written."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from typing import Final, NamedTuple

from rigbook.findings.place import Span
from rigbook.records import frozen

STATES: Final = (("", "light"), ("", "dark"), ("light", "light"), ("dark", "dark"))
"""What the reader chose on the page (nothing, light or dark), and what the device is set to."""


class Token(NamedTuple):
    """A value of a token and the place where it is written."""

    value: str
    span: Span


@frozen
class Rule:
    """Tokens that a style sheet sets on the page as a whole."""

    selectors: tuple[str, ...]
    scheme: str
    """`light` or `dark` within a media query for it; else empty."""
    tokens: Mapping[str, Token]


def rules(text: str, file: str) -> Iterator[Rule]:
    """The rules of a style sheet that stand on `:root`, outside of what is for paper only."""
    bare = re.sub(r"/\*.*?\*/", lambda m: re.sub(r"[^\n]", " ", m[0]), text, flags=re.DOTALL)
    yield from _rules(bare, file, "", 0, len(bare))


def _rules(text: str, file: str, scheme: str, start: int, end: int) -> Iterator[Rule]:
    at = start
    while (opened := text.find("{", at, end)) >= 0:
        head, closed = " ".join(text[at:opened].split()), _closing(text, opened, end)
        if head.startswith("@media"):
            found = re.search(r"prefers-color-scheme\s*:\s*(light|dark)", head)
            if "print" not in head and (found or "screen" in head):
                yield from _rules(text, file, found[1] if found else scheme, opened + 1, closed)
        elif not head.startswith("@"):
            selectors = tuple(s.strip() for s in head.split(",") if s.strip().startswith(":root"))
            if selectors:
                yield Rule(selectors, scheme, dict(_tokens(text, file, opened + 1, closed)))
        at = closed + 1


def _closing(text: str, opened: int, end: int) -> int:
    depth = 0
    for i in range(opened, end):
        depth += (text[i] == "{") - (text[i] == "}")
        if not depth:
            return i
    return end


def _tokens(text: str, file: str, start: int, end: int) -> Iterator[tuple[str, Token]]:
    for found in re.compile(r"--([\w-]+)\s*:\s*([^;{}]*)").finditer(text, start, end):
        line = text.count("\n", 0, found.start())
        column = found.start() - (text.rfind("\n", 0, found.start()) + 1)
        span = Span(file, line, column, line, column + len(found[0].rstrip()))
        yield found[1], Token(found[2].strip(), span)


def in_state(sheet: Iterable[Rule], chosen: str, device: str) -> dict[str, Token]:
    """The tokens that hold in one of `STATES`: of rules that fit the one that says most, of equals the last."""
    best: dict[str, tuple[int, int]] = {}
    out: dict[str, Token] = {}
    for order, rule in enumerate(sheet):
        weights = [w for s in rule.selectors if (w := _weight(s, chosen)) is not None]
        if not weights or (rule.scheme and rule.scheme != device):
            continue
        for name, token in rule.tokens.items():
            if (max(weights), order) >= best.get(name, (0, 0)):
                best[name], out[name] = (max(weights), order), token
    return out


def _weight(selector: str, chosen: str) -> int | None:
    """How much a selector says (its specificity, in classes); None where it does not fit."""
    weight, rest = 0, selector
    while rest:
        found = re.match(r':root|\[data-mode(?:="?(\w+)"?)?\]|:not\(\[data-mode="?(\w+)"?\]\)', rest)
        if not found:
            return None
        part = found[0]
        if part.startswith("[") and (not chosen or (found[1] and found[1] != chosen)):
            return None
        if part.startswith(":not") and found[2] == chosen:
            return None
        weight, rest = weight + 1, rest[found.end() :]
    return weight


def resolved(name: str, tokens: Mapping[str, Token], depth: int = 8) -> str:
    """The value of a token, those that it names followed; empty where it is not set."""
    value = tokens[name].value if name in tokens else ""
    found = re.fullmatch(r"var\(\s*--([\w-]+)\s*\)", value)
    return resolved(found[1], tokens, depth - 1) if found and depth else value
