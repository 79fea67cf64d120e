"""A text that remembers what it was made of, so that a page can say it in another language.

This room knows no other, so it has its own: English to whoever prints it, and the handbook's tongue says it anew.
"""

from __future__ import annotations

from typing import Any


class Told(str):
    """An English text with its message, as it stands in the catalogue, and the values in it."""

    message: str
    values: dict[str, Any]


def told(message: str, /, **values: Any) -> Told:
    """A message with its values, which stand in it as `%(name)s`."""
    made = Told(message % values if values else message)
    made.message, made.values = message, values
    return made


def either(parts: list[str]) -> str:
    """Texts to choose from: `a or b`; empty where there is none."""
    out, *rest = parts or [""]
    for part in rest:
        out = told("%(a)s or %(b)s", a=out, b=part)
    return out
