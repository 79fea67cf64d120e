"""The reference of the language as Markdown, made from the table of keys."""

from __future__ import annotations

from rigbook.language.groups import ListOf, MapOf
from rigbook.language.keys.plan import SHAPES
from rigbook.language.reading import Grammar
from rigbook.language.shape import Shape
from rigbook.language.values.amounts import Amount, AmountRange
from rigbook.language.within import Within

HEAD = """\
# The plan language: reference

Made by `rigbook schema --reference` from the table that also reads the plans and makes the JSON Schema
(`rigbook schema`); a test holds the three together. For a way in, see [language.md](language.md).

Every amount is written with its unit. The last column says what holds where the key is left out: a value, *must be
given*, *none* (nothing is set, or there is no such thing), *not known* (what needs it is not worked out, and the pages
say so). Where a range stands behind an amount, what lies outside cannot be meant and is the finding `out-of-range`;
[why](#ranges) is told at the end.
"""

RANGES = """
## ranges

Ranges are wide: inside them lies all that is built or found. They tell nothing of what is wise; checks do.

| keys | from, to | why |
|---|---|---|
"""


def reference() -> str:
    """The whole reference."""
    return HEAD + "".join(_shape(s) for s in SHAPES) + _ranges()


def _ranges() -> str:
    """Why each range ends where it does, the keys that share one in one row."""
    rows: dict[Within, list[str]] = {}
    for shape in SHAPES:
        for key in shape.keys:
            if key.within:
                rows.setdefault(key.within, []).append(f"{shape.name} `{key.name}`")
    lines = [f"| {', '.join(dict.fromkeys(keys))} | {r.words} | {r.why} |\n" for r, keys in rows.items()]
    return RANGES + "".join(lines)


def _shape(shape: Shape) -> str:
    lines = [f"\n## {shape.name}\n", f"\n{shape.help}"]
    if shape.short:
        lines.append(f" A lone value stands for `{shape.short}`.")
    lines.append("\n\n| key | what it says | written as | example | left out |\n|---|---|---|---|---|\n")
    for key in shape.keys:
        name = f"`{key.name}`"
        if key.name in shape.by_desk:
            name += f", `{key.name} on DESK`"
        written = _written(key.value) + (f", {key.within.words}" if key.within else "")
        cells = (name, key.help, written, f"`{key.example}`", shape.default(key))
        lines.append("| " + " | ".join(c.replace("|", "\\|") for c in cells) + " |\n")
    return "".join(lines)


def _written(value: Grammar) -> str:
    """How a value is written, in a few words."""
    match value:
        case Shape():
            return f"[{value.name}](#{value.name.replace(' ', '-')})"
        case MapOf():
            return f"`{value.key_words}: …`, each {_written(value.value)}"
        case ListOf():
            return ("one or a list of " if value.lone else "list of ") + _written(value.item)
        case Amount():
            return f"amount ({value.dimension})"
        case AmountRange():
            return f"two amounts ({value.dimension})"
        case _:
            return value.words
