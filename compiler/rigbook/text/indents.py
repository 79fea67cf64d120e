"""Mistakes with what stands in front of a line: tabs, and spaces too many or too few. One rule a function."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Final

from rigbook.text.mistakes import Mend, Mistake, Trouble, clip
from rigbook.text.phrase import either, phrase

KEY_BEHIND: Final = re.compile(r"-\s+[A-Za-z0-9][\w .-]*:(\s|$)")
"""A dash and a key behind it."""


def tab(t: Trouble) -> Mistake | None:
    """A tab in front of a line, where YAML allows spaces only."""
    at = next((i for i in (t.line, t.from_line) if re.match(r" *\t", t.lines[i])), None)
    if at is None:
        return None
    lines = tuple(i for i, text in enumerate(t.lines) if i == at or text.startswith("\t"))
    more = {1: "", 2: phrase(", one more is too")}.get(
        len(lines), phrase(", %(count)s more are too", count=len(lines) - 1)
    )
    first = t.at(lines[0])
    fix = phrase("indent with spaces, two for each level; most editors can turn tabs into spaces")
    message = phrase("this line is indented with a tab%(more)s", more=more)
    start = first.text.index("\t")
    return Mistake(lines[0], start, first.indent, message, fix, Mend.TABS, "tab-indent", lines=lines)


def first_line_off(t: Trouble) -> Mistake | None:
    """The first line of a group has other spaces in front than the lines after it: it is the odd one."""
    if not re.search(r"mapping values|expected key|'-' indicator|block end|document start", t.problem):
        return None
    here = t.here().indent
    chain = [line for line in _chain(t) if t.at(line).indent != here]
    deeper = [line for line in chain if t.at(line).indent > here]
    others = chain[len(deeper) :]
    for first, above in ((deeper[-1:], others), (others[:1], others[1:])):
        parent = t.at(above[0]).indent if above else -1
        if first and _alone(t, first[0], above[0] if above else -1, parent):
            right = parent + 2 if above else 0
            dashes = t.at(first[0]).indent + _dashes(t.lines[first[0]]) == here
            if not dashes and (here == right or _count(t, here, parent) >= 2):
                return _first_line(t, first[0], here)
    return None


def _first_line(t: Trouble, line: int, right: int) -> Mistake:
    off = t.at(line).indent
    message = phrase(
        "this line has %(spaces)s in front, the lines after it %(other)s", spaces=spaces(off), other=spaces(right)
    )
    return Mistake(
        line,
        0,
        max(off, 1),
        message,
        phrase("put %(spaces)s in front of it", spaces=spaces(right)),
        Mend.INDENT,
        indent=right,
    )


def deeper_than_value(t: Trouble) -> Mistake | None:
    """A line indented below a key that has its value already, or an item below an item."""
    above, here = t.above(t.line), t.here()
    if above is None or not re.search(r"mapping values|expected key|block end", t.problem):
        return None
    before = t.at(above)
    if here.indent <= before.indent:
        return None
    _, value = before.value()
    lines = block(t, t.line)
    if here.content.startswith("- ") and before.content.startswith("- "):
        message = phrase("this list item is indented deeper than the one above")
        fix = phrase("indent it like that one")
    elif before.colons and value:
        message = phrase("this line is indented below %(text)s, which is a value already", text=clip(value))
        fix = phrase(
            "begin it below the first letter of %(text)s", text=clip(before.content.lstrip("- ").split(":")[0])
        )
    else:
        return None
    target = before.indent + (0 if here.content.startswith("- ") else _dashes(before.text))
    return Mistake(t.line, 0, here.indent, message, fix, Mend.INDENT, lines=lines, indent=target)


def indentation(t: Trouble) -> Mistake | None:
    """A line that begins in a column where no group or list is open, or in that of the wrong one."""
    here = t.here()
    if not re.search(r"expected key|'-' indicator|block end", t.problem):
        return None
    levels = {t.at(line).indent for line in _chain(t)} or {0}
    if here.indent in levels:
        return _wrong_kind(t)
    below, above = [i for i in levels if i < here.indent], [i for i in levels if i > here.indent]
    close = [i for i in (max(below, default=None), min(above, default=None)) if i is not None]
    fix = phrase("put %(spaces)s in front of it, like the lines it belongs with", spaces=either(map(spaces, close)))
    message = phrase("this line has %(spaces)s in front, unlike the lines around it", spaces=spaces(here.indent))
    target = _meant(t, close)
    item = _item_level(t, close)
    if item is not None:
        fix = phrase("put %(spaces)s in front of it, like the items it belongs with", spaces=spaces(item))
        return Mistake(t.line, 0, max(here.indent, 1), message, fix, Mend.INDENT, indent=item)
    mend = Mend.LINE if target is None else Mend.INDENT
    moved = block(t, t.line) if target is not None else ()
    return Mistake(t.line, 0, max(here.indent, 1), message, fix, mend, lines=moved, indent=target or 0)


def _item_level(t: Trouble, levels: list[int]) -> int | None:
    """The level of the list that an item near it was meant for."""
    if not t.here().content.startswith("- "):
        return None
    items = (t.at(line).indent for line in _chain(t) if t.at(line).content.startswith("- "))
    return next((i for i in items if i in levels and abs(i - t.here().indent) == 1), None)


def _meant(t: Trouble, levels: list[int]) -> int | None:
    """The level that a line was meant for: the nearest, or of two the deeper one above its own deeper lines."""
    here = t.here().indent
    near = [i for i in levels if abs(i - here) == min(abs(j - here) for j in levels)]
    if len(near) == 1:
        return near[0]
    below = t.below(t.line)
    inside = t.at(below).indent if below is not None else 0
    return max((i for i in near if i < inside), default=None) if inside > here else None


def _wrong_kind(t: Trouble) -> Mistake:
    """A list item among keys, or a key among list items."""
    here = t.here()
    if here.content.startswith("-"):
        message = phrase("a list item stands among keys")
        fix = phrase("indent it below the key it belongs to")
    elif here.content.startswith(":"):
        message = phrase("no name stands before this colon")
        fix = phrase("write the key's name before the colon")
    elif (dash := _lone_dash(t)) is not None:
        text = t.at(dash).content
        message = phrase("a dash stands before this line, and none before those below it")
        fix = phrase("take the dash out")
        indent = t.at(dash).indent
        end = " " * indent + text[1:].lstrip()
        return Mistake(dash, indent, indent + 1, message, fix, Mend.TEXT, text=end)
    else:
        message = phrase("this line stands among list items")
        fix = phrase("begin it with `- `, or indent it like the key above the list")
    return Mistake(t.line, here.indent, here.end, message, fix, Mend.LINE)


def _lone_dash(t: Trouble) -> int | None:
    """The line of a key with a dash in front, where the lines below it are keys of the same group without one."""
    here = t.here().indent
    above = [i for i in _above(t, here) if t.at(i).indent == here]
    keys = [i for i in block(t, t.line) if t.at(i).indent == here]
    lone = len(above) == 1 and KEY_BEHIND.match(t.at(above[0]).content)
    return above[0] if lone and not any(t.at(i).content.startswith("-") for i in keys) else None


def _above(t: Trouble, indent: int) -> Iterator[int]:
    """The lines above that lie as deep or deeper, upwards."""
    line = t.above(t.line)
    while line is not None and t.at(line).indent >= indent:
        yield line
        line = t.above(line)


def _chain(t: Trouble) -> list[int]:
    """The lines above that are open: going up, each less indented than those below it."""
    chain: list[int] = []
    line = t.above(t.line)
    while line is not None and not (chain and t.at(chain[-1]).indent == 0):
        if not chain or t.at(line).indent < t.at(chain[-1]).indent:
            chain.append(line)
        line = t.above(line)
    return chain


def _alone(t: Trouble, line: int, parent_line: int, parent: int) -> bool:
    """True if no other line of its group has the indentation of this one."""
    indent, count = t.at(line).indent, 0
    for i in range(parent_line + 1, len(t.lines)):
        here = t.at(i)
        if here.content and here.indent <= parent:
            break
        count += bool(here.content) and here.indent == indent
    return count == 1


def _count(t: Trouble, indent: int, parent: int) -> int:
    """Lines with this indentation from the parser's place to the end of the group."""
    count = 0
    for i in range(t.line, len(t.lines)):
        here = t.at(i)
        if here.content and here.indent <= parent:
            break
        count += bool(here.content) and here.indent == indent
    return count


def block(t: Trouble, line: int) -> tuple[int, ...]:
    """A line and those after it that lie as deep or deeper."""
    indent = t.at(line).indent
    after = range(line + 1, len(t.lines))
    end = next((i for i in after if t.lines[i].strip() and t.at(i).indent < indent), len(t.lines))
    return tuple(range(line, end))


def _dashes(text: str) -> int:
    """The width of the dashes that a line begins with."""
    m = re.match(r"\s*((?:- +)*)", text)
    return len(m.group(1)) if m else 0


def spaces(count: int) -> str:
    """So many spaces, as spoken."""
    return {0: phrase("no space"), 1: phrase("one space")}.get(count, phrase("%(count)s spaces", count=count))
