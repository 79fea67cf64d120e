"""The whole system on one sheet: every device as a block, every connection as a line, words only inside blocks."""

from __future__ import annotations

from rigbook.graph.rig import Rig
from rigbook.handbook.drawings import svg
from rigbook.handbook.drawings.blocks import Block, Line, Sheet, sheet_of
from rigbook.handbook.drawings.layout import HEAD, height, lay_out, width


def draw(rig: Rig) -> str:
    """The signal-flow drawing of a rig; empty where there is nothing to draw."""
    sheet = sheet_of(rig)
    if not sheet.blocks:
        return ""
    lefts, widths, tall = lay_out(sheet)
    wide = max(lefts[c] + widths[c] for c in lefts) + 8
    body = [_line(line, sheet, lefts) for line in sheet.lines]
    body += [_block(b, lefts[b.column]) for b in sheet.blocks.values()]
    described = (
        f"{len(sheet.blocks)} devices in {len(lefts)} columns, joined by {len(sheet.lines)} connections; "
        "the tables of the patch page say the same in words"
    )
    return svg.sheet("signal-flow", wide, tall, f"Signal flow of {rig.plan.title}", described, body)


def _block(block: Block, x: float) -> str:
    wide = width(block)
    css = "block " + block.sort.replace(" ", "-")
    parts = [svg.rect(x, block.y, wide, height(block), css, 3)]
    parts.append(svg.text(x + 10, block.y + 16, block.title, "block-title"))
    if block.rows:
        y = block.y + HEAD - 3
        parts.append(svg.path(f"M{svg.num(x)} {svg.num(y)}h{svg.num(wide)}", "block-rule"))
    for row in block.rows.values():
        if row.left:
            parts.append(svg.text(x + 8, row.y + 4, row.left, "port"))
        if row.right and row.right != row.left:
            parts.append(svg.text(x + wide - 8, row.y + 4, row.right, "port", "end"))
    return svg.link(block.link, "".join(parts), block.title)


def _line(line: Line, sheet: Sheet, lefts: dict[int, float]) -> str:
    a, b = sheet.blocks[line.start[0]], sheet.blocks[line.end[0]]
    x1, y1 = lefts[a.column] + width(a), a.rows[line.start[1]].y
    x2, y2 = lefts[b.column], b.rows[line.end[1]].y
    bend = max(28.0, min((x2 - x1) / 2, 90.0))
    ends = [svg.num(v) for v in (x1, y1, x1 + bend, y1, x2 - bend, y2, x2, y2)]
    d = f"M{ends[0]} {ends[1]}C{' '.join(ends[2:])}"
    return svg.path(d, f"wire {line.sort}", line.title)
