"""What a change leaves out must stand in what it changes: required keys of the two together."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from rigbook.findings.finding import Finding, Label, Severity
from rigbook.language.groups import MapOf
from rigbook.language.keys.plan import RIG_KEYS
from rigbook.language.reading import Grammar
from rigbook.language.record import Record
from rigbook.language.shape import Shape


def lacking(section: str, value: Any) -> Iterator[Finding]:
    """A finding for each required key that an item of a section, or a whole section, still lacks."""
    grammar = next((k.value for k in RIG_KEYS if k.name == section.partition(" on ")[0]), None)
    if isinstance(grammar, MapOf) and isinstance(value, Record):
        grammar = grammar.value
    if grammar is not None:
        yield from _lacking(value, grammar)


def _lacking(value: Any, grammar: Grammar) -> Iterator[Finding]:
    match grammar:
        case Shape() if isinstance(value, Record):
            for key in grammar.keys:
                if key.required and key.name not in value.values and key.name not in value.broken:
                    message, remedy = grammar.lacking(key)
                    yield Finding("missing-key", Severity.ERROR, message, Label(value.span), remedy=remedy)
                yield from _lacking(value.get(key.name), key.value)
        case MapOf() if isinstance(value, tuple):
            for entry in value:
                yield from _lacking(entry.value, grammar.value)
