"""JSON Schema 2020-12 of the language, made from the table of keys, so that editors complete and hover."""

from __future__ import annotations

from typing import Any

from rigbook.language.groups import ListOf, MapOf
from rigbook.language.keys.plan import PLAN, VERSION
from rigbook.language.reading import Grammar, Parsed
from rigbook.language.shape import Shape
from rigbook.language.values.amounts import Amount, AmountRange
from rigbook.language.values.wires import WireGrammar
from rigbook.language.values.words import NoteText


def schema() -> dict[str, Any]:
    """The schema of a plan file, as an editor's YAML server reads one.

    It refuses nothing that the reader takes, but for `null` and `~` as a text or a name: those want quotes. Whether
    names exist, what a number may be with its unit, and what is said in two places, the reader and the checks tell.
    """
    found: dict[str, Any] = {}
    _define(PLAN, found)
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "$id": f"urn:rigbook:plan:{VERSION}",
        "title": "rigbook plan",
        **PLAN.schema(),
        "$defs": found,
    }


def _define(value: Grammar, found: dict[str, Any]) -> None:
    """Every group of keys that a plan may hold, as it stands there and in a change, and what many keys share."""
    name = getattr(value, "name", "")
    match value:
        case Shape() if value.definition_name not in found:
            found[value.definition_name] = value.definition()
            for key in value.keys:
                _define(key.value, found)
        case MapOf():
            _define(value.value, found)
        case ListOf():
            _define(value.item, found)
        case Parsed() | NoteText() | Amount() | AmountRange() | WireGrammar() if name and name not in found:
            found[name] = value.definition()
