"""Mistakes with colons, dashes and texts over several lines. One rule a function."""

from __future__ import annotations

import re

from rigbook.text.items import tight_dash
from rigbook.text.lines import TIGHT_KEY
from rigbook.text.mistakes import Mend, Mistake, Trouble, clip, in_quotes
from rigbook.text.phrase import phrase


def no_space(t: Trouble) -> Mistake | None:
    """`show:Lantern` and `-foo`, at the parser's places or one line above."""
    for line in dict.fromkeys((t.from_line, t.line, t.above(t.line))):
        if line is None or line > t.line:
            continue
        found = t.at(line)
        m = TIGHT_KEY.match(found.text)
        if m and not found.colons:
            shown = f"{m['key']}: {found.text[m.end() : found.end]}"
            message = phrase("no space follows the colon in %(text)s", text=clip(found.content))
            return Mistake(line, m.end() - 1, m.end() + 1, message, phrase("write %(text)s", text=clip(shown, 60)))
        if (line == t.from_line and "simple key" in t.context) or t.here().content.startswith("- "):
            dash = tight_dash(t, line)
            if dash:
                return dash
    return None


def list_behind_key(t: Trouble) -> Mistake | None:
    """`a: - b`."""
    here = t.here()
    if not t.problem.startswith(("block sequence entries", "sequence entries")) or not here.colons:
        return None
    start, value = here.value()
    fix = phrase(
        "begin the list on the line below, or write %(text)s", text=clip("[" + value.removeprefix("-").strip() + "]")
    )
    return Mistake(
        t.line, start, here.end, phrase("a list begins on the line of its key"), fix, deeper_than=here.indent
    )


def second_colon(t: Trouble) -> Mistake | None:
    """`a: b: c`."""
    here = t.here()
    if not t.problem.startswith("mapping values") or len(here.colons) < 2:
        return None
    _, value = here.value()
    key = here.text[here.indent : here.colons[0]].lstrip("- ")
    shown = f"{key}: {in_quotes(value)}"
    message = phrase("the text after %(text)s holds another colon", text=clip(key + ":"))
    fix = phrase("put quotes around it: %(text)s", text=clip(shown, 70))
    if re.match(r"[a-z][a-z-]*: ", value):
        # one word before the colon, as a key has: both readings are told, the likelier first
        fix = phrase("put braces around keys, %(text)s, or quotes around a text", text=clip(f"{key}: {{{value}}}", 70))
    return Mistake(t.line, here.colons[1], here.colons[1] + 1, message, fix)


def flush_text(t: Trouble) -> Mistake | None:
    """The lines of a `|` text, typed without indentation."""
    for line in dict.fromkeys((t.from_line, t.line)):
        above = t.above(line)
        if above is None or t.at(line).indent > t.at(above).indent or t.at(line).colons:
            continue
        _, value = t.at(above).value()
        if re.fullmatch(r"[|>][-+\d]*", value):
            here = t.at(line)
            message = phrase("this text is not indented below its `%(value)s`", value=value[0])
            fix = phrase("put two spaces more than the key has in front of each line of the text")
            return Mistake(line, here.indent, here.end, message, fix, Mend.LINE)
    return None


def no_colon(t: Trouble) -> Mistake | None:
    """A key without its colon: with deeper lines below it, or alone."""
    if t.problem.startswith("mapping values"):
        line = _first_without_colon(t)
    elif "simple key" in t.context:
        line = t.from_line
    elif "expected key" in t.problem and not t.here().colons and not t.here().content.startswith("-"):
        line = t.line
    else:
        return None
    if line is None:
        return None
    here, below = t.at(line), t.below(line)
    text = here.content
    if here.colons or not re.match(r"(?:- +)*\w", text):
        return None
    message = phrase("%(text)s has no colon", text=clip(text))
    deeper = below is not None and t.at(below).indent > here.indent
    word, _, rest = text.partition(" ")
    if deeper and not re.match(r"[|>]", rest):
        return Mistake(
            line, here.indent, here.end, message, phrase("write %(text)s", text=clip(text + ":")), Mend.COLON
        )
    fix = (
        phrase("write %(text)s", text=clip(f"{word}: {rest}"))
        if rest
        else phrase("write %(text)s and its value", text=clip(word + ":"))
    )
    return Mistake(line, here.indent, here.end, message, fix, Mend.LINE)


def _first_without_colon(t: Trouble) -> int | None:
    """YAML joins lines without a colon until one has a colon: the first of those above the parser's place."""
    run: list[int] = []
    line = t.above(t.line)
    while line is not None and not t.at(line).colons:
        run.append(line)
        line = t.above(line)
    if run and t.at(run[-1]).content.startswith("- "):
        # a list, whose items stand alone: only the last one was joined to what follows
        return next(i for i in run if t.at(i).content.startswith("- "))
    return run[-1] if run else None
