"""Blocks in columns, the signal from left to right. A line that passes a column has a slot there between the blocks,
so no line ever crosses a block or its words.

Columns are the longest way from the left; orders come from sweeps of barycentres, the one with the fewest crossings
kept (after Sugiyama, Tagawa and Toda 1981); heights are the least-squares fit to what the lines want, by pooling
adjacent violators (after Ayer and others 1955). The same sheet gives the same drawing.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping
from itertools import pairwise

from rigbook.handbook.drawings import svg
from rigbook.handbook.drawings.blocks import Block, Sheet
from rigbook.records import changing, field

HEAD, UNDER, GAP = 24.0, 15.0, 10.0
"""Height of a block's title and of the line below it; room between two blocks, in px."""
TITLE, SMALL = 12.5, 11.5
"""Type of a block's title and of the line below it, in px."""
STRAND = 8.0
"""Room that a passing line takes in a column."""
LEAST, MOST = 44.0, 96.0
"""Room between columns for the lines."""
SWEEPS, SETTLES = 12, 10


@changing
class Item:
    """A block, or the slot of a passing line, in a column."""

    key: str
    height: float
    y: float = 0.0


@changing
class Layout:
    """Where everything is."""

    items: dict[str, Item] = field(default_factory=dict)
    columns: list[list[str]] = field(default_factory=list)
    """Keys of items from left to right, from the top down."""
    chains: list[tuple[str, ...]] = field(default_factory=list)
    """For each bundle the items it passes, its blocks included. A line that runs backwards turns beside them."""
    column: dict[str, int] = field(default_factory=dict)
    lefts: list[float] = field(default_factory=list)
    widths: list[float] = field(default_factory=list)
    width: float = 0.0
    height: float = 0.0


def lay_out(sheet: Sheet) -> Layout:
    """The layout of a sheet."""
    out = Layout()
    columns = columns_of(sheet.blocks, [(b.start, b.end) for b in sheet.bundles])
    out.columns = [[] for _ in range(max(columns.values(), default=-1) + 1)]
    for block in sheet.blocks.values():
        out.items[block.key] = Item(block.key, height(block))
        out.columns[columns[block.key]].append(block.key)
    out.column = dict(columns)
    for i, bundle in enumerate(sheet.bundles):
        a, b = columns[bundle.start], columns[bundle.end]
        slots = []
        for c in range(a + 1, b) if a < b else range(a, b - 1, -1):
            slots.append(f"| {i} {c}")
            out.items[slots[-1]] = Item(slots[-1], STRAND)
            out.columns[c].append(slots[-1])
            out.column[slots[-1]] = c
        out.chains.append((bundle.start, *slots, bundle.end))
    _order(out)
    _settle(out)
    _across(out, sheet)
    return out


def height(block: Block) -> float:
    """Height of a closed block."""
    return HEAD + (UNDER if block.under else 0.0)


def width(block: Block) -> float:
    """Width of a closed block."""
    return round(max(svg.wide(block.title, TITLE, bold=True), svg.wide(block.under, SMALL), 30.0) + 20, 1)


def columns_of(keys: Mapping[str, object], pairs: list[tuple[str, str]]) -> dict[str, int]:
    """Longest way from the left; a ring (two desks that feed each other) is cut where it closes. What feeds more than
    it is fed by is drawn up to what it feeds.
    """
    ahead: dict[str, set[str]] = defaultdict(set)
    before: dict[str, set[str]] = defaultdict(set)
    for a, b in pairs:
        ahead[a].add(b)
    order = _without_rings(keys, ahead)
    for a, others in ahead.items():
        for b in others:
            before[b].add(a)
    column = dict.fromkeys(keys, 0)
    for key in order:
        for other in ahead[key]:
            column[other] = max(column[other], column[key] + 1)
    for key in reversed(order):
        if ahead[key] and len(before[key]) < len(ahead[key]):
            column[key] = min(column[other] for other in ahead[key]) - 1
    least = min(column.values(), default=0)
    return {key: c - least for key, c in column.items()}


def _without_rings(keys: Mapping[str, object], ahead: dict[str, set[str]]) -> list[str]:
    """Keys before what they feed. Takes the closing line of each ring out of `ahead`."""
    state: dict[str, int] = {}
    order: list[str] = []
    for first in keys:
        if first in state:
            continue
        state[first] = 1
        todo = [(first, iter(sorted(ahead[first])))]
        while todo:
            key, others = todo[-1]
            other = next(others, None)
            if other is None:
                state[key] = 2
                order.append(key)
                todo.pop()
            elif state.get(other) == 1:
                ahead[key].discard(other)
            elif other not in state:
                state[other] = 1
                todo.append((other, iter(sorted(ahead[other]))))
    return order[::-1]


def links(layout: Layout) -> Iterator[tuple[str, str]]:
    """Pairs of items in neighbouring columns that a line joins, the left one first."""
    for chain in layout.chains:
        for a, b in pairwise(chain):
            if layout.column[a] + 1 == layout.column[b]:
                yield a, b
            elif layout.column[b] + 1 == layout.column[a]:
                yield b, a


def _order(layout: Layout) -> None:
    """Sort every column so that lines cross little; the best of some sweeps is kept."""
    left: dict[str, list[str]] = defaultdict(list)
    right: dict[str, list[str]] = defaultdict(list)
    for a, b in links(layout):
        right[a].append(b)
        left[b].append(a)
    best, fewest = [list(c) for c in layout.columns], crossings(layout)
    for sweep in range(SWEEPS):
        near = right if sweep % 2 else left
        columns = layout.columns[::-1] if sweep % 2 else layout.columns
        for column, beside in zip(columns[1:], columns, strict=False):
            at = {key: i / max(len(beside) - 1, 1) for i, key in enumerate(beside)}
            here = {key: i / max(len(column) - 1, 1) for i, key in enumerate(column)}
            wish = {key: _mean([at[n] for n in near[key]], here[key]) for key in column}
            column.sort(key=lambda key: (wish[key], here[key]))
        count = crossings(layout)
        if count < fewest:
            best, fewest = [list(c) for c in layout.columns], count
    layout.columns = best


def _mean(values: list[float], default: float) -> float:
    return sum(values) / len(values) if values else default


def crossings(layout: Layout) -> int:
    """How many pairs of lines between neighbouring columns cross."""
    at = {key: i for column in layout.columns for i, key in enumerate(column)}
    between: dict[int, list[tuple[int, int]]] = defaultdict(list)
    for a, b in links(layout):
        between[layout.column[a]].append((at[a], at[b]))
    total = 0
    for lines in between.values():
        ends: list[int] = []
        for _, end in sorted(lines):
            total += len(ends) - _below(ends, end)
            ends.insert(_below(ends, end), end)
    return total


def _below(ends: list[int], value: int) -> int:
    """How many of the sorted ends are not greater than a value."""
    from bisect import bisect_right

    return bisect_right(ends, value)


def _settle(layout: Layout) -> None:
    """Give every item its height on the sheet: close to its neighbours, in order, apart."""
    near: dict[str, list[str]] = defaultdict(list)
    for a, b in links(layout):
        near[a].append(b)
        near[b].append(a)
    for column in layout.columns:
        y = 0.0
        for key in column:
            layout.items[key].y = y
            y += layout.items[key].height + GAP
    for turn in range(SETTLES):
        columns = layout.columns[::-1] if turn % 2 else layout.columns
        for column in columns:
            want = []
            for key in column:
                item = layout.items[key]
                middle = item.y + item.height / 2
                others = [layout.items[n].y + layout.items[n].height / 2 for n in near[key]]
                want.append(_mean(others, middle) - item.height / 2)
            gaps = [_apart(layout, a, b) for a, b in pairwise(column)]
            for key, y in zip(column, spread(want, gaps), strict=True):
                layout.items[key].y = y
    top = min((i.y for i in layout.items.values()), default=0.0)
    for item in layout.items.values():
        item.y = round(item.y - top + 8.0, 1)
    layout.height = max((i.y + i.height for i in layout.items.values()), default=0.0) + 8.0


def _apart(layout: Layout, above: str, below: str) -> float:
    """Least distance from the top of an item to the top of the next. Two passing lines lie closer than two blocks."""
    gap = 0.0 if above.startswith("|") and below.startswith("|") else GAP
    return layout.items[above].height + gap


def spread(want: list[float], gaps: list[float]) -> list[float]:
    """Heights nearest to those wanted (least squares) that keep their order and the gaps between them."""
    offsets = [0.0]
    for gap in gaps:
        offsets.append(offsets[-1] + gap)
    pools: list[tuple[float, int]] = []  # (mean, members)
    for value, offset in zip(want, offsets, strict=False):
        mean, members = value - offset, 1
        while pools and pools[-1][0] > mean:
            other, count = pools.pop()
            mean = (mean * members + other * count) / (members + count)
            members += count
        pools.append((mean, members))
    flat = [mean for mean, members in pools for _ in range(members)]
    return [y + offset for y, offset in zip(flat, offsets, strict=False)]


def _across(layout: Layout, sheet: Sheet) -> None:
    """Widths of the columns, and between them room for the lines."""
    lines: dict[int, int] = defaultdict(int)
    for a, _ in links(layout):
        lines[layout.column[a]] += 1
    turns = any(layout.column[b.start] >= layout.column[b.end] for b in sheet.bundles)
    x = LEAST + 8.0 if turns else 8.0
    for c, column in enumerate(layout.columns):
        wide = max((width(sheet.blocks[key]) for key in column if key in sheet.blocks), default=0.0)
        layout.lefts.append(x)
        layout.widths.append(wide)
        x += wide + min(max(LEAST, 30.0 + 2.5 * lines[c]), MOST)
    last = layout.widths[-1] if layout.widths else 0.0
    layout.width = (layout.lefts[-1] if layout.lefts else 0.0) + last + (LEAST if turns else 0.0) + 8.0
