"""JSON Schema 2020-12 of the language, made from the table of keys, so that editors complete and hover."""

from __future__ import annotations

from typing import Any

from rigbook.language.keys.plan import PLAN, SHAPES, VERSION


def schema() -> dict[str, Any]:
    """The schema of a plan file. What it accepts, the reader accepts in shape; names and amounts the reader checks."""
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "$id": f"urn:rigbook:plan:{VERSION}",
        "title": "rigbook plan",
        **PLAN.schema(),
        "$defs": {s.name.replace(" ", "-"): s.definition() for s in SHAPES},
    }
