"""The tree of a mended text, put right: what was lost becomes `Broken`, and every place is that of the file."""

from __future__ import annotations

from rigbook.findings.finding import Finding, Label
from rigbook.findings.place import Source, Span
from rigbook.records import changing, field
from rigbook.text.tree import Broken, Listing, Mapping, Node, Scalar


@changing
class Damage:
    """What mending did to a text, by line."""

    values: set[int] = field(default_factory=set)
    """Lines whose value was lost; the key stayed."""
    lines: dict[int, int] = field(default_factory=dict)
    """Lines that were lost as a whole, with the indentation they had."""
    moved: dict[int, int] = field(default_factory=dict)
    """Lines that were moved to the right by so many columns (to the left, if negative)."""


def restore(root: Node, damage: Damage, source: Source) -> Node:
    """The tree with places as in `source`, with `Broken` for what was lost, and a mark on groups that lost a line."""
    return _Restoring(damage, source).node(root, range(len(source.lines)))


def restore_finding(finding: Finding, damage: Damage, source: Source) -> Finding:
    """A finding made on the mended text, with its places as in `source`."""
    work = _Restoring(damage, source)
    labels = [Label(work.place(label.span), label.text) for label in (finding.primary, *finding.secondary)]
    return Finding(
        finding.check,
        finding.severity,
        finding.message,
        labels[0],
        tuple(labels[1:]),
        remedy=finding.remedy,
    )


class _Restoring:
    def __init__(self, damage: Damage, source: Source) -> None:
        self._values = damage.values
        self._unclaimed = dict(damage.lines)
        """Lost lines that no deeper group has claimed yet."""
        self._moved = damage.moved
        self._source = source

    def node(self, node: Node, extent: range) -> Node:
        """`extent` are the lines up to the next key or item."""
        lost = [line for line in self._unclaimed if line in extent]
        column = node.span.column  # in the mended text, in which the lost lines were indented
        node.span = self.place(node.span)
        if isinstance(node, Scalar):
            if node.span.line in self._values or (lost and not node.text and node.plain):
                for line in lost:
                    del self._unclaimed[line]
                return Broken(node.span)
        elif isinstance(node, Mapping):
            node.keys = {name: self.place(span) for name, span in node.keys.items()}
            starts = [node.keys[name].line for name in node.items]
            for name, part in zip(list(node.items), _parts(starts, extent), strict=True):
                node.items[name] = self.node(node.items[name], part)
            for line in lost:
                if self._unclaimed.get(line, -1) >= column or line == node.span.line:
                    self._unclaimed.pop(line, None)
                    node.partial = True
        elif isinstance(node, Listing):
            starts = [item.span.line for item in node.items]
            node.items = [self.node(item, part) for item, part in zip(node.items, _parts(starts, extent), strict=True)]
        return node

    def place(self, span: Span) -> Span:
        """A place of the mended text in the file."""
        line, column = self._inside(span.line, span.column)
        end_line, end_column = self._inside(span.end_line, span.end_column)
        if line == end_line:
            end_column = max(column, end_column)
        return Span(span.file, line, column, end_line, end_column)

    def _inside(self, line: int, column: int) -> tuple[int, int]:
        return line, min(max(column - self._moved.get(line, 0), 0), len(self._source.lines[line]))


def _parts(starts: list[int], extent: range) -> list[range]:
    """The lines of each child: from where it begins to where the next one does."""
    return [range(a, max(b, a + 1)) for a, b in zip(starts, [*starts[1:], extent.stop], strict=False)]
