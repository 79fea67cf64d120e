"""Mistakes with colons, dashes and indentation. One rule a function."""

from __future__ import annotations

import re

from rigbook.text.lines import TIGHT_KEY
from rigbook.text.mistakes import Mend, Mistake, Trouble, clip, in_quotes


def tab(t: Trouble) -> Mistake | None:
    """A tab in front of a line, where YAML allows spaces only."""
    at = next((i for i in (t.line, t.from_line) if re.match(r" *\t", t.lines[i])), None)
    if at is None:
        return None
    lines = tuple(i for i, text in enumerate(t.lines) if i == at or text.startswith("\t"))
    more = {1: "", 2: ", one more is too"}.get(len(lines), f", {len(lines) - 1} more are too")
    first = t.at(lines[0])
    fix = "indent with spaces, two for each level; most editors can turn tabs into spaces"
    message = f"this line is indented with a tab{more}"
    return Mistake(lines[0], first.text.index("\t"), first.indent, message, fix, Mend.TABS, "tab-indent", lines=lines)


def no_space(t: Trouble) -> Mistake | None:
    """`show:Lantern` and `-foo`, at the parser's places or one line above."""
    for line in dict.fromkeys((t.from_line, t.line, t.above(t.line))):
        if line is None or line > t.line:
            continue
        found = t.at(line)
        m = TIGHT_KEY.match(found.text)
        if m and not found.colons:
            shown = f"{m['key']}: {found.text[m.end() : found.end]}"
            message = f"no space follows the colon in {clip(found.content)}"
            return Mistake(line, m.end() - 1, m.end() + 1, message, f"write {clip(shown, 60)}")
        m = re.match(r"\s*-(?=[^\s\d-])", found.text)
        if m and line == t.from_line and "simple key" in t.context:
            fix = f"write {clip('- ' + found.text[m.end() : found.end])}"
            message = f"no space follows the dash in {clip(found.content)}"
            return Mistake(line, m.end() - 1, m.end() + 1, message, fix, Mend.LINE)
    return None


def list_behind_key(t: Trouble) -> Mistake | None:
    """`a: - b`."""
    here = t.here()
    if not t.problem.startswith(("block sequence entries", "sequence entries")) or not here.colons:
        return None
    start, value = here.value()
    fix = f"begin the list on the line below, or write {clip('[' + value.removeprefix('-').strip() + ']')}"
    return Mistake(t.line, start, here.end, "a list begins on the line of its key", fix, deeper_than=here.indent)


def second_colon(t: Trouble) -> Mistake | None:
    """`a: b: c`."""
    here = t.here()
    if not t.problem.startswith("mapping values") or len(here.colons) < 2:
        return None
    _, value = here.value()
    key = here.text[here.indent : here.colons[0]].lstrip("- ")
    shown = f"{key}: {in_quotes(value)}"
    message = f"the text behind {clip(key + ':')} holds another colon"
    return Mistake(t.line, here.colons[1], here.colons[1] + 1, message, f"put quotes around it: {clip(shown, 70)}")


def flush_text(t: Trouble) -> Mistake | None:
    """The lines of a `|` text, typed without indentation."""
    for line in dict.fromkeys((t.from_line, t.line)):
        above = t.above(line)
        if above is None or t.at(line).indent > t.at(above).indent or t.at(line).colons:
            continue
        _, value = t.at(above).value()
        if re.fullmatch(r"[|>][-+\d]*", value):
            here = t.at(line)
            message = f"this text is not indented below its `{value[0]}`"
            fix = "put two spaces more than the key has in front of each line of the text"
            return Mistake(line, here.indent, here.end, message, fix, Mend.LINE)
    return None


def no_colon(t: Trouble) -> Mistake | None:
    """A key without its colon: with deeper lines below it, or alone."""
    above = t.above(t.line)
    at_value = t.problem.startswith("mapping values") and above is not None
    if at_value and above is not None and not t.at(above).colons:
        line = above
    elif "simple key" in t.context:
        line = t.from_line
    elif "expected key" in t.problem and not t.here().colons and not t.here().content.startswith("-"):
        line = t.line
    else:
        return None
    here, below = t.at(line), t.below(line)
    text = here.content
    if here.colons or not re.fullmatch(r"(?:- +)*[\w][^:]*", text):
        return None
    message = f"{clip(text)} has no colon"
    if below is not None and t.at(below).indent > here.indent:
        return Mistake(line, here.indent, here.end, message, f"write {clip(text + ':')}", Mend.COLON)
    word, _, rest = text.partition(" ")
    fix = f"write {clip(f'{word}: {rest}')}" if rest else f"write {clip(word + ':')} and its value"
    return Mistake(line, here.indent, here.end, message, fix, Mend.LINE)


def deeper_than_value(t: Trouble) -> Mistake | None:
    """A line indented below a key that has its value already."""
    above = t.above(t.line)
    here = t.here()
    if (
        above is None
        or here.indent <= t.at(above).indent
        or not re.search(r"mapping values|expected key|block end", t.problem)
    ):
        return None
    _, value = t.at(above).value()
    if not t.at(above).colons or not value:
        return None
    message = f"this line is indented below {clip(value)}, which is a value already"
    fix = f"begin it below the first letter of {clip(t.at(above).content.lstrip('- ').split(':')[0])}"
    return Mistake(t.line, 0, here.indent, message, fix, Mend.LINE, deeper_than=here.indent - 1)


def indentation(t: Trouble) -> Mistake | None:
    """A line that begins in a column where no group or list is open, or in that of the wrong one."""
    here = t.here()
    if not re.search(r"expected key|'-' indicator|block end", t.problem):
        return None
    levels = _levels(t)
    if here.indent in levels:
        if here.content.startswith("-"):
            message, fix = "a list item stands among keys", "indent it below the key it belongs to"
        elif here.content.startswith(":"):
            message, fix = "no name stands before this colon", "write the key's name before the colon"
        else:
            message = "this line stands among list items"
            fix = "begin it with `- `, or indent it like the key above the list"
        return Mistake(t.line, here.indent, here.end, message, fix, Mend.LINE)
    below, above = [i for i in levels if i < here.indent], [i for i in levels if i > here.indent]
    close = [_spaces(i) for i in (max(below, default=None), min(above, default=None)) if i is not None]
    fix = f"put {' or '.join(close)} in front of it, like the lines it belongs with"
    message = f"this line has {_spaces(here.indent)} in front, unlike the lines around it"
    return Mistake(t.line, 0, max(here.indent, 1), message, fix, Mend.LINE)


def _spaces(count: int) -> str:
    return {0: "no space", 1: "one space"}.get(count, f"{count} spaces")


def _levels(t: Trouble) -> set[int]:
    """The indentations that are open above the line: each less than those below it."""
    levels: set[int] = set()
    line = t.above(t.line)
    while line is not None and 0 not in levels:
        indent = t.at(line).indent
        if not levels or indent < min(levels):
            levels.add(indent)
        line = t.above(line)
    return levels or {0}
