"""Blocks in columns: the signal runs left to right, lines cross as little as a few sweeps can bring about."""

from __future__ import annotations

from collections import defaultdict

from rigbook.handbook.drawings.blocks import Block, Line, Sheet

ROW, HEAD, GAP = 18.0, 24.0, 12.0
CHARACTER = 6.9
"""Mean width of a character at the drawing's 12 px type, measured over the shipped shows' names, with room to spare."""
CHANNEL = 72.0
"""Room between columns for the lines."""


def lay_out(sheet: Sheet) -> tuple[dict[int, float], dict[int, float], float]:
    """Give every block its column and height. Returns column lefts, column widths, and the height of the sheet."""
    _columns(sheet)
    by_column: dict[int, list[Block]] = defaultdict(list)
    for block in sheet.blocks.values():
        by_column[block.column].append(block)
    for blocks in by_column.values():
        _stack(blocks)
    for sweep in range(6):
        back = bool(sweep % 2)
        for column in sorted(by_column, reverse=back):
            _settle(sheet, by_column[column], back)
    widths = {c: max(width(b) for b in blocks) for c, blocks in by_column.items()}
    lefts, x = {}, 8.0
    for column in sorted(widths):
        lefts[column] = x
        x += widths[column] + CHANNEL
    top = min((b.y for b in sheet.blocks.values()), default=0.0)
    for block in sheet.blocks.values():
        block.y += 8.0 - top
        for i, row in enumerate(block.rows.values()):
            row.y = block.y + HEAD + ROW * i + ROW / 2
    return lefts, widths, max((b.y + height(b) for b in sheet.blocks.values()), default=0.0) + 8


def height(block: Block) -> float:
    """Height of a block."""
    return HEAD + ROW * len(block.rows) + (4 if block.rows else 0)


def width(block: Block) -> float:
    """Width of a block: its title, or its widest row."""
    rows = max((len(r.left) + len(r.right) + (3 if r.left and r.right else 0) for r in block.rows.values()), default=0)
    return max(len(block.title), rows, 8) * CHARACTER + 20


def _columns(sheet: Sheet) -> None:
    """Longest way from the left; a ring (two desks that feed each other) is cut where it closes."""
    ahead: dict[str, set[str]] = defaultdict(set)
    for line in sheet.lines:
        ahead[line.start[0]].add(line.end[0])
    state: dict[str, int] = {}
    order: list[str] = []

    def visit(key: str) -> None:
        state[key] = 1
        for other in sorted(ahead[key]):
            if state.get(other) == 1:
                ahead[key] = ahead[key] - {other}
            elif other not in state:
                visit(other)
        state[key] = 2
        order.append(key)

    for key in sheet.blocks:
        if key not in state:
            visit(key)
    for key in reversed(order):
        for other in ahead[key]:
            sheet.blocks[other].column = max(sheet.blocks[other].column, sheet.blocks[key].column + 1)


def _stack(blocks: list[Block]) -> None:
    y = 0.0
    for block in blocks:
        block.y = y
        y += height(block) + GAP


def _settle(sheet: Sheet, blocks: list[Block], back: bool) -> None:
    """Put the blocks of a column where their lines want them, in that order, without overlap."""
    mine = {b.key for b in blocks}
    wish: dict[str, list[float]] = defaultdict(list)
    for line in sheet.lines:
        here, there = (line.start, line.end) if back else (line.end, line.start)
        if here[0] in mine and there[0] not in mine:
            wish[here[0]].append(_row_y(sheet, there) - (_row_y(sheet, here) - sheet.blocks[here[0]].y))
    want = {b.key: sum(wish[b.key]) / len(wish[b.key]) if wish[b.key] else b.y for b in blocks}
    blocks.sort(key=lambda b: (want[b.key], b.key))
    floor = float("-inf")
    for block in blocks:
        block.y = max(want[block.key], floor)
        floor = block.y + height(block) + GAP
    # what was pushed down pulls its neighbours up by half of it, so that the column sits in the middle of its wishes
    shift = sum(want[b.key] - b.y for b in blocks) / len(blocks)
    for block in blocks:
        block.y += shift


def _row_y(sheet: Sheet, end: tuple[str, str]) -> float:
    block = sheet.blocks[end[0]]
    return block.y + HEAD + ROW * list(block.rows).index(end[1]) + ROW / 2


def column_gap(line: Line, sheet: Sheet) -> int:
    """Columns that a line spans; below 1 it runs backwards."""
    return sheet.blocks[line.end[0]].column - sheet.blocks[line.start[0]].column
