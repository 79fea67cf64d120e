"""After a mistake of YAML: say what it is, mend the line, and let reading begin anew.

A mended line keeps its key where only the value is lost, so that no later stage reports the same mistake a second
time; what was changed is remembered in a `Damage`, with which `restoring.py` puts the tree right.
"""

from __future__ import annotations

import yaml

from rigbook.findings.finding import Finding, Label, Severity
from rigbook.findings.place import Source, Span
from rigbook.text.limits import LARGE, MAX_REPAIRS
from rigbook.text.lines import DASHES, KEY, MAX_LOOK, TIGHT_KEY, look
from rigbook.text.mistakes import Mend, Mistake, Trouble
from rigbook.text.phrase import phrase
from rigbook.text.recognise import recognise
from rigbook.text.restoring import Damage


class Mending:
    """The text of one file while it is being mended."""

    def __init__(self, source: Source, text: str) -> None:
        self.findings: list[Finding] = []
        self.damage = Damage()
        self._source = source
        self._lines = text.split("\n")
        self._told: set[int] = set()
        self._rounds = 0

    @property
    def text(self) -> str:
        """The text as mended so far."""
        return "\n".join(self._lines)

    def mend(self, error: yaml.MarkedYAMLError) -> bool:
        """Report a mistake and mend it; False where reading on makes no sense."""
        mistake = recognise(self._trouble(error))
        self._rounds += 1
        if mistake.line not in self._told:
            self._tell(mistake)
        if self._rounds == (MAX_REPAIRS if len(self._source.text) < LARGE else MAX_REPAIRS // 5):
            fix = phrase("put these right first, then look again")
            self._add(
                mistake.line,
                0,
                0,
                "yaml-syntax",
                phrase("too many mistakes of form; nothing is read from here on"),
                fix,
            )
            return False
        before = list(self._lines)
        self._apply(mistake)
        if self._lines == before:
            self._blank(mistake.line)
        return self._lines != before

    def _trouble(self, error: yaml.MarkedYAMLError) -> Trouble:
        last = max((i for i, line in enumerate(self._lines) if line.strip()), default=0)
        mark, context = error.problem_mark, error.context_mark or error.problem_mark
        assert mark is not None and context is not None, "the parser marks its errors"
        at_end = mark.line > last
        return Trouble(
            self._lines,
            error.problem or "",
            error.context or "",
            min(mark.line, last),
            len(self._lines[last]) if at_end else mark.column,
            min(context.line, last),
            context.column,
        )

    def _tell(self, m: Mistake) -> None:
        self._add(m.line, m.start, m.end, m.check, m.message, m.remedy)
        self._told.update(m.lines)
        self._told.add(m.line)

    def _add(self, line: int, start: int, end: int, check: str, message: str, remedy: str) -> None:
        width = len(self._source.lines[line])
        moved = self.damage.moved.get(line, 0)
        start = min(max(start - moved, 0), width)
        end = max(min(end - moved, width), min(start + 1, width))
        label = Label(Span(self._source.file, line, start, line, end))
        self.findings.append(Finding(check, Severity.ERROR, message, label, remedy=remedy))

    def _apply(self, m: Mistake) -> None:
        opened = self._flow_start(m.line)
        if opened is not None and m.mend is not Mend.TEXT:
            self._lose_value(opened, None)
        elif m.mend is Mend.TABS:
            step = self._step()
            for i in m.lines:
                text = self._lines[i].lstrip(" \t")
                front = self._lines[i][: len(self._lines[i]) - len(text)]
                self._move(i, self._item_beside(i) or len(front.replace("\t", " " * step)))
        elif m.mend is Mend.INDENT and m.line not in self.damage.moved:
            self._indent(m)
        elif m.mend is Mend.TEXT:
            before, kept = self._lines[m.line], m.text.lstrip()
            if before.endswith(kept):
                # what went stood in front: the rest is told where it was typed
                moved = self.damage.moved
                moved[m.line] = moved.get(m.line, 0) + len(m.text) - len(before)
            self._lines[m.line] = m.text
        elif m.mend is Mend.COLON:
            self._lines[m.line] = self._lines[m.line][: m.end] + ":"
            self.damage.values.add(m.line)
        elif m.mend is Mend.VALUE:
            self._lose_value(m.line, m.deeper_than)
        else:
            self._blank_below(m.line, m.deeper_than)
            self._blank(m.line)

    def _flow_start(self, line: int) -> int | None:
        """The line above that opened the bracket inside which a line stands, if there is one."""
        indent = look(self._lines[line]).indent
        for i in range(line - 1, -1, -1):
            here = look(self._lines[i])
            if here.content and here.indent < indent:
                return i if here.open_bracket() is not None else None
        return None

    def _item_beside(self, line: int) -> int:
        """The spaces in front of the list item right above or below, where a lone line with a tab is an item too."""
        if not self._lines[line].lstrip().startswith("- "):
            return 0
        beside = [self._lines[i] for i in (line - 1, line + 1) if 0 <= i < len(self._lines)]
        items = [text for text in beside if text.lstrip(" ").startswith("- ")]
        return len(items[0]) - len(items[0].lstrip(" ")) if items else 0

    def _step(self) -> int:
        """Spaces for a tab: as many as the least indented line of the file has."""
        indents = (len(line) - len(line.lstrip(" ")) for line in self._lines if not line.lstrip(" ").startswith("\t"))
        return min((i for i in indents if i), default=2)

    def _indent(self, m: Mistake) -> None:
        lines = m.lines or self._with_children(m.line, m.indent)
        change = m.indent - look(self._lines[m.line]).indent
        for i in lines:
            if self._lines[i].strip():
                self._move(i, max(look(self._lines[i]).indent + change, 0))

    def _with_children(self, line: int, indent: int) -> range:
        """The line; and those below it, if they would not lie deeper than its new indentation."""
        own = look(self._lines[line]).indent
        end = line + 1
        while end < len(self._lines) and look(self._lines[end]).indent > max(own, indent):
            end += 1
        inside = [look(text).indent for text in self._lines[line + 1 : end] if text.strip()]
        return range(line, end) if inside and min(inside) <= indent else range(line, line + 1)

    def _move(self, line: int, indent: int) -> None:
        text = self._lines[line].lstrip(" \t")
        moved = self.damage.moved
        moved[line] = moved.get(line, 0) + indent - (len(self._lines[line]) - len(text))
        self._lines[line] = " " * indent + text

    def _lose_value(self, line: int, deeper_than: int | None) -> None:
        """Keep the key of a line, if it has one."""
        self._blank_below(line, deeper_than)
        text = self._lines[line]
        found = KEY.match(text[:MAX_LOOK]) or TIGHT_KEY.match(text) or DASHES.match(text)
        kept = found.group() if found else ""
        if kept and kept != text:
            self._lines[line] = kept
            self.damage.values.add(line)
        else:
            self._blank(line)

    def _blank(self, line: int) -> None:
        text = self._lines[line]
        if text.strip():
            self.damage.lines[line] = len(text) - len(text.lstrip())
        self._lines[line] = ""

    def _blank_below(self, line: int, deeper_than: int | None) -> None:
        """The lines that belong to a lost one go with it: no one can tell what they meant."""
        text = self._lines[line]
        indent = len(text) - len(text.lstrip()) if deeper_than is None else deeper_than
        for i in range(line + 1, len(self._lines)):
            text = self._lines[i].strip()
            if text and len(self._lines[i]) - len(self._lines[i].lstrip()) <= indent and text[0] not in "]}":
                return
            self._lines[i] = ""
            self._told.add(i)
