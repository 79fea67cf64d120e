"""The table of the mistakes of form that people make in YAML. The first rule that knows a mistake names it."""

from __future__ import annotations

from collections.abc import Callable

from rigbook.text.indents import deeper_than_value, first_line_off, indentation, tab
from rigbook.text.items import joined_item, missing_dash
from rigbook.text.mistakes import Mistake, Trouble, clip
from rigbook.text.phrase import phrase
from rigbook.text.shape import flush_text, list_behind_key, no_colon, no_space, second_colon
from rigbook.text.signs import (
    behind_quote,
    block_header,
    colon_in_brackets,
    comma_missing,
    comment_in_brackets,
    directive,
    escape,
    odd_start,
    open_bracket,
    open_quote,
    stray_bracket,
    too_deep,
)

# Order: what makes the parser lose its way over many lines comes first (a tab, a quote, a bracket), what it says
# about one line comes later, and indentation, of which it complains after any other mistake, comes last.
RULES: tuple[Callable[[Trouble], Mistake | None], ...] = (
    too_deep,
    joined_item,
    tab,
    open_quote,
    behind_quote,
    no_space,
    directive,
    escape,
    block_header,
    comment_in_brackets,
    open_bracket,
    list_behind_key,
    colon_in_brackets,
    comma_missing,
    stray_bracket,
    second_colon,
    flush_text,
    first_line_off,
    deeper_than_value,
    missing_dash,
    no_colon,
    odd_start,
    indentation,
)


def recognise(trouble: Trouble) -> Mistake:
    """The mistake behind an error of the parser."""
    found = (rule(trouble) for rule in RULES)
    return next((m for m in found if m is not None), _unknown(trouble))


def _unknown(t: Trouble) -> Mistake:
    here = t.here()
    fix = phrase("look for a missing colon, comma, quote or bracket here and in the line above")
    start = min(t.column, max(here.end - 1, 0))
    return Mistake(t.line, start, here.end, phrase("%(text)s cannot be read", text=clip(here.content)), fix)
