"""JSON Schema 2020-12 of the language, made from the table of keys, so that editors complete and hover."""

from __future__ import annotations

from typing import Any

from rigbook.language.groups import ListOf, MapOf
from rigbook.language.keys.plan import PLAN, VERSION
from rigbook.language.reading import Grammar
from rigbook.language.shape import Shape


def schema() -> dict[str, Any]:
    """The schema of a plan file. What it accepts, the reader accepts in shape; names and amounts the reader checks."""
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "$id": f"urn:rigbook:plan:{VERSION}",
        "title": "rigbook plan",
        **PLAN.schema(),
        "$defs": {name: shape.definition() for name, shape in _shapes(PLAN, {}).items()},
    }


def _shapes(value: Grammar, found: dict[str, Shape]) -> dict[str, Shape]:
    """Every group of keys that a plan may hold, as it stands there and as it stands in a change."""
    match value:
        case Shape() if value.definition_name not in found:
            found[value.definition_name] = value
            for key in value.keys:
                _shapes(key.value, found)
        case MapOf():
            _shapes(value.value, found)
        case ListOf():
            _shapes(value.item, found)
    return found
