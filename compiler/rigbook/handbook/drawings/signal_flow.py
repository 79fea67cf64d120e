"""The whole system on one sheet: every device as a block, every run of connections as a line, words only in blocks.

The drawing shows devices closed. What a script needs to open them and to light the way to a speaker stands beside it as
data: the sockets, the wires between them, and the order in which this module put them.
"""

from __future__ import annotations

import json
from html import escape
from itertools import pairwise

from rigbook.handbook.anchors import slug
from rigbook.handbook.drawings import svg
from rigbook.handbook.drawings.blocks import Block, Sheet, rows
from rigbook.handbook.drawings.layout import GAP, HEAD, Layout, height
from rigbook.handbook.tongue import ENGLISH, Tongue

SCALE = 1.3
"""Natural size: a block with half the room around it is then 44 px high, enough for a gloved finger (WCAG 2.5.5)."""
PORT_STEP = 7.0
"""Greatest distance between two lines that leave a block on one side, in px."""


def drawn(sheet: Sheet, layout: Layout, title: str, tongue: Tongue = ENGLISH) -> str:
    """The drawing of a sheet, all devices closed."""
    paths = routes(sheet, layout)
    body = [
        svg.path(path, f"wire {bundle.sort}", _title(sheet, i, tongue))
        for i, (path, bundle) in enumerate(zip(paths, sheet.bundles, strict=True))
    ]
    body += [_block(block, layout) for block in sheet.blocks.values()]
    described = tongue.say(
        "%(blocks)s devices in %(columns)s columns, joined by %(wires)s connections; "
        "the table below the drawing says the same in words",
        blocks=len(sheet.blocks),
        columns=len(layout.columns),
        wires=len(sheet.wires),
    )
    return svg.sheet("signal-flow", layout.width, layout.height, title, described, body, SCALE)


def data(sheet: Sheet, layout: Layout) -> str:
    """What the script needs, as JSON: blocks with their rows, wires, columns, and the ways to each end."""
    number = {key: i for i, key in enumerate(sheet.blocks)}
    nodes: dict[str, dict[tuple[str, str], int]] = {}
    blocks = []
    for block in sheet.blocks.values():
        listed = rows(block)
        nodes[block.key] = {}
        for i, (a, b) in enumerate(listed):
            nodes[block.key]["in", a], nodes[block.key]["out", b] = i, i
        blocks.append(
            [[*block.ins.get(a, ("", "")), *(block.outs.get(b, ("", "")) if a != b else ("", ""))] for a, b in listed]
        )
    wires = [
        [number[w.start], nodes[w.start]["out", w.start_node], number[w.end], nodes[w.end]["in", w.end_node]]
        for w in sheet.wires
    ]
    columns = [[number.get(key, key[2:]) for key in column] for column in layout.columns]
    return json.dumps(
        {
            "rows": blocks,
            "wires": wires,
            "bundles": [[b.sort, b.wires] for b in sheet.bundles],
            "columns": columns,
            "ways": {slug(key): wires for key, wires in sheet.ways.items()},
        },
        ensure_ascii=False,
        separators=(",", ":"),
    )


def _title(sheet: Sheet, index: int, tongue: Tongue) -> str:
    bundle = sheet.bundles[index]
    a, b = sheet.blocks[bundle.start], sheet.blocks[bundle.end]
    number, way = len(bundle.wires), f"{a.title} → {b.title}"
    if number == 1:
        return way
    many = tongue.count(number, "%(num)s connection", "%(num)s connections")
    return f"{way} ({many})"


def _block(block: Block, layout: Layout) -> str:
    ident = escape(f"flow-{slug(block.key)}")
    return f'<a href="{escape(block.link)}" id="{ident}">{block_drawn(block, layout)}</a>'


def block_drawn(block: Block, layout: Layout) -> str:
    """A block and its words."""
    c = layout.column[block.key]
    x, y, wide = layout.lefts[c], layout.items[block.key].y, layout.widths[c]
    css = "block " + block.sort.replace(" ", "-")
    parts = [svg.rect(x, y - GAP / 2, wide, height(block) + GAP, "reach"), svg.rect(x, y, wide, height(block), css, 3)]
    parts.append(svg.text(x + 10, y + 16, block.title, "block-title"))
    if block.under:
        parts.append(svg.text(x + 10, y + HEAD + 7, block.under, "block-under"))
    return "".join(parts)


def ports(sheet: Sheet, layout: Layout) -> dict[tuple[int, str], float]:
    """Where each bundle leaves (`out`) and enters (`in`) its blocks: spread over the edge in the order of far ends."""
    out: dict[tuple[int, str], float] = {}
    sides: dict[tuple[str, str], list[tuple[float, int]]] = {}
    for i, chain in enumerate(layout.chains):
        for side, key, far in (("out", chain[0], chain[1]), ("in", chain[-1], chain[-2])):
            there = layout.items[far]
            sides.setdefault((key, side), []).append((there.y + there.height / 2, i))
    for (key, side), lines in sides.items():
        item = layout.items[key]
        step = min(PORT_STEP, (item.height - 8) / max(len(lines) - 1, 1))
        for place, (_, i) in enumerate(sorted(lines)):
            out[i, side] = item.y + item.height / 2 + (place - (len(lines) - 1) / 2) * step
    return out


def routes(sheet: Sheet, layout: Layout) -> list[str]:
    """The path of every bundle: curves between columns only, straight where it passes one."""
    at = ports(sheet, layout)
    return [_route(layout, i, chain, at[i, "out"], at[i, "in"]) for i, chain in enumerate(layout.chains)]


def _route(layout: Layout, index: int, chain: tuple[str, ...], start: float, end: float) -> str:
    heights = [start, *(layout.items[key].y + layout.items[key].height / 2 for key in chain[1:-1]), end]
    columns = [layout.column[key] for key in chain]
    x = layout.lefts[columns[0]] + layout.widths[columns[0]]
    d = f"M{svg.num(x)} {svg.num(start)}"
    for i, (a, b) in enumerate(pairwise(columns)):
        y1, y2 = heights[i], heights[i + 1]
        left, right = layout.lefts[b], layout.lefts[b] + layout.widths[b]
        last = i == len(chain) - 2
        if b > a:
            d += _curve(x, y1, left, y2) + ("" if last else f"H{svg.num(right)}")
            x = right
        elif a == b:  # a line that runs backwards turns beside its block
            turn = 22.0 if i == 0 else -22.0
            d += _curve(x, y1, x, y2, turn) + ("" if last else f"H{svg.num(left)}")
            x = left
        else:
            d += _curve(x, y1, right, y2) + f"H{svg.num(left)}"
            x = left
    return d


def _curve(x1: float, y1: float, x2: float, y2: float, turn: float = 0.0) -> str:
    """A curve that leaves and arrives level; with `turn`, out and back on one side."""
    if not turn and abs(y1 - y2) < 0.05:
        return f"H{svg.num(x2)}"
    a, b = (x1 + turn, x2 + turn) if turn else ((x1 + x2) / 2, (x1 + x2) / 2)
    ends = " ".join(svg.num(v) for v in (a, y1, b, y2, x2, y2))
    return f"C{ends}"
