"""After a mistake of YAML: say what it is, mend the line, and let reading begin anew.

Mending keeps every place where it was, and keeps a key whose value is lost, so that no later stage reports the
same mistake a second time.
"""

from __future__ import annotations

import re

import yaml

from rigbook.findings.finding import Finding, Label, Severity
from rigbook.findings.place import Source, Span
from rigbook.text.limits import MAX_REPAIRS
from rigbook.text.lines import DASHES, KEY, MAX_LOOK, TIGHT_KEY
from rigbook.text.mistakes import Mend, Mistake, Trouble
from rigbook.text.recognise import recognise
from rigbook.text.tree import Broken, Listing, Mapping, Node, Scalar


class Mending:
    """The text of one file while it is being mended."""

    def __init__(self, source: Source, text: str) -> None:
        self.findings: list[Finding] = []
        self._damaged: set[int] = set()
        """Lines whose value was lost; the key stayed."""
        self._holes: dict[int, int] = {}
        """Lines that were lost as a whole, with their indentation."""
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
        if self._rounds == MAX_REPAIRS:
            fix = "put these right first, then look again"
            self._add(mistake.line, 0, 0, "yaml-syntax", "too many mistakes of form; nothing is read from here on", fix)
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
        self._add(m.line, m.start, m.end, m.check, m.message, m.remedy, m.label)
        self._told.update(m.lines or (m.line,))

    def _add(self, line: int, start: int, end: int, check: str, message: str, remedy: str, label: str = "") -> None:
        width = len(self._source.lines[line])
        start = min(start, width)
        span = Span(self._source.file, line, start, line, min(max(end, start + 1), max(width, start)))
        self.findings.append(Finding(check, Severity.ERROR, message, Label(span, label), remedy=remedy))

    def _apply(self, m: Mistake) -> None:
        if m.mend is Mend.TABS:
            for i in m.lines:
                indent = re.match(r"\s*", self._lines[i])
                assert indent is not None
                self._lines[i] = self._lines[i].replace("\t", " ", indent.group().count("\t"))
        elif m.mend is Mend.COLON:
            self._lines[m.line] = self._lines[m.line][: m.end] + ":"
            self._damaged.add(m.line)
        elif m.mend is Mend.LINE:
            self._blank_below(m)
            self._blank(m.line)
        else:
            self._blank_below(m)
            self._keep_key(m.line)

    def _keep_key(self, line: int) -> None:
        text = self._lines[line]
        found = KEY.match(text[:MAX_LOOK]) or TIGHT_KEY.match(text) or DASHES.match(text)
        kept = found.group() if found else ""
        if kept and kept != text:
            self._lines[line] = kept
            self._damaged.add(line)
        else:
            self._blank(line)

    def _blank(self, line: int) -> None:
        text = self._lines[line]
        if text.strip():
            self._holes[line] = len(text) - len(text.lstrip())
        self._lines[line] = ""

    def _blank_below(self, m: Mistake) -> None:
        """The lines that belong to a lost one go with it: no one can tell what they meant."""
        line = self._lines[m.line]
        indent = len(line) - len(line.lstrip()) if m.deeper_than is None else m.deeper_than
        for i in range(m.line + 1, len(self._lines)):
            text = self._lines[i]
            if text.strip() and len(text) - len(text.lstrip()) <= indent:
                return
            self._lines[i] = ""
            self._told.add(i)

    def mark(self, root: Node) -> Node:
        """The tree, with `Broken` for lost values and a mark on the groups that lost a line."""
        if not self._damaged and not self._holes:
            return root
        return self._mark(root, range(len(self._lines)), dict(self._holes))

    def _mark(self, node: Node, extent: range, holes: dict[int, int]) -> Node:
        """`holes` are the lost lines, with their indentation, that no deeper group has claimed yet."""
        mine = [h for h in holes if h in extent]
        node.span = self._fit(node.span)
        if isinstance(node, Scalar):
            empty = not node.text and node.plain
            if node.span.line in self._damaged or (empty and mine):
                for h in mine:
                    del holes[h]
                return Broken(node.span)
        elif isinstance(node, Mapping):
            names = list(node.items)
            starts = [node.keys[name].line for name in names]
            for name, part in zip(names, _parts(starts, extent), strict=True):
                node.items[name] = self._mark(node.items[name], part, holes)
            for h in [h for h in mine if holes.get(h, -1) >= node.span.column or h == node.span.line]:
                holes.pop(h, None)
                node.partial = True
        elif isinstance(node, Listing):
            starts = [item.span.line for item in node.items]
            node.items = [
                self._mark(item, part, holes) for item, part in zip(node.items, _parts(starts, extent), strict=True)
            ]
        return node

    def _fit(self, span: Span) -> Span:
        """Without the colon that was put behind the end of a line."""
        width = len(self._source.lines[span.end_line])
        return span._replace(
            column=min(span.column, width) if span.line == span.end_line else span.column,
            end_column=min(span.end_column, width),
        )


def _parts(starts: list[int], extent: range) -> list[range]:
    """The lines of each child: from where it begins to where the next one does."""
    return [range(a, max(b, a + 1)) for a, b in zip(starts, [*starts[1:], extent.stop], strict=False)]
