"""Mistakes with the dashes of a list from which all its items can be recovered. One rule a function."""

from __future__ import annotations

import re

import yaml

from rigbook.findings.place import Span
from rigbook.text.indents import block, spaces
from rigbook.text.mistakes import Mend, Mistake, Trouble, clip
from rigbook.text.phrase import phrase

JOINED = "list items joined"
"""The word for what the parser does not complain of: it reads a list, one of whose dashes is off, as a long text."""


def joined(lines: tuple[str, ...] | list[str], span: Span, item: int) -> None:
    """Raise where the text at `span` was meant as items of a list, of which the one on line `item` shows it."""
    first = lines[span.line]
    column = len(lines[item]) - len(lines[item].lstrip())
    if lines[span.end_line].startswith(":", span.end_column):
        return  # of a key over several lines the parser complains by itself
    starts = len(first) - len(first.lstrip()) == span.column
    if first.startswith("-", span.column) or (starts and column == span.column) or first.lstrip().startswith("- "):
        start, here = (yaml.Mark("", 0, n, c, None, 0) for n, c in ((span.line, span.column), (item, column)))
        raise yaml.MarkedYAMLError(JOINED, start, JOINED, here)


def joined_item(t: Trouble) -> Mistake | None:
    """What `joined` tells of."""
    if t.problem != JOINED:
        return None
    if not t.at(t.from_line).text.lstrip().startswith("- "):
        return tight_dash(t, t.from_line) or _no_dash(t, t.from_line)
    here = t.here()
    message = phrase("this list item is indented below the value above")
    fix = phrase("indent it like the item above, and write `- ` in front of each item")
    above = t.at(t.from_line).indent
    after = [i for i in range(t.line, len(t.lines)) if t.lines[i].strip()][:2]
    alone = all(t.at(i).indent == above + 1 and t.at(i).content.startswith("- ") for i in after)
    key = t.above(t.from_line)
    if alone and len(after) == 2 and key is not None and not t.at(key).content.startswith("- "):
        message = phrase(
            "this line has %(spaces)s in front, the lines after it %(other)s",
            spaces=spaces(above),
            other=spaces(above + 1),
        )
        fix = phrase("put %(spaces)s in front of it", spaces=spaces(above + 1))
        return Mistake(t.from_line, 0, max(above, 1), message, fix, Mend.INDENT, indent=above + 1)
    return Mistake(t.line, here.indent, len(here.text), message, fix, Mend.INDENT, lines=block(t, t.line), indent=above)


def tight_dash(t: Trouble, line: int) -> Mistake | None:
    """`-foo`."""
    found = t.at(line)
    m = re.match(r"(\s*)-(?=[^\s\d-])", found.text)
    if m is None:
        return None
    item = "- " + found.text[m.end() : found.end]
    message = phrase("no space follows the dash in %(text)s", text=clip(found.content))
    text = m.group() + " " + found.text[m.end() :]
    return Mistake(
        line, m.end() - 1, m.end() + 1, message, phrase("write %(text)s", text=clip(item, 60)), Mend.TEXT, text=text
    )


def missing_dash(t: Trouble) -> Mistake | None:
    """A line without a dash and without a colon right below an item of a list."""
    if not re.search(r"'-' indicator|simple key|block end", t.problem + t.context):
        return None
    for line in dict.fromkeys((t.from_line, t.line)):
        here, above = t.at(line), t.above(line)
        plain = re.match(r"\w", here.content) and not here.colons
        if plain and above is not None and t.at(above).content.startswith("- ") and t.at(above).indent == here.indent:
            return _no_dash(t, line)
    return None


def _no_dash(t: Trouble, line: int) -> Mistake:
    here = t.at(line)
    message = phrase("no dash stands in front of %(text)s, among the items of a list", text=clip(here.content))
    fix = phrase("write %(text)s", text=clip("- " + here.content, 70))
    text = " " * here.indent + "- " + here.text.lstrip()
    return Mistake(line, here.indent, here.end, message, fix, Mend.TEXT, text=text)
