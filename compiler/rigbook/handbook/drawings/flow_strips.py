"""The signal-flow drawing on paper where one sheet would make its type too small to read: strips of it, one a sheet."""

from __future__ import annotations

import re
from html import escape
from math import ceil
from typing import Final

from rigbook.handbook.drawings import svg
from rigbook.handbook.drawings.blocks import Sheet
from rigbook.handbook.drawings.layout import Layout, height
from rigbook.handbook.drawings.signal_flow import block_drawn, routes

ACROSS_MM: Final = (267.0, 148.0)
"""What a sheet of A4 on its side leaves for the drawing."""
UPRIGHT_MM: Final = (180.0, 225.0)
TYPE: Final = 11.0
"""Size of a block's title, in units of the drawing."""
LEAST_MM: Final = 1.5
"""Least size of type that is read at arm's length: 4.3 pt (common practice is 5 pt for print in tables)."""
OVERLAP: Final = 60.0
"""Units that two strips share, more than the tallest block: each block is whole on one of them."""
HEIGHTS: Final = re.compile(r"[MC ]-?[\d.]+ (-?[\d.]+)")


def strips(sheet: Sheet, layout: Layout, title: str) -> tuple[str, ...]:
    """The drawing in strips from top to bottom, as wide as an upright sheet; none where one sheet on its side will do.

    A drawing that is too wide for upright sheets stays whole.
    """
    whole = min(ACROSS_MM[0] / layout.width, ACROSS_MM[1] / layout.height)
    upright = UPRIGHT_MM[0] / layout.width
    if whole * TYPE >= LEAST_MM or upright <= whole:
        return ()
    most = UPRIGHT_MM[1] / upright
    count = ceil((layout.height - OVERLAP) / (most - OVERLAP))
    step = (layout.height - OVERLAP) / count
    parts = _parts(sheet, layout)
    drawn = ((i * step, i * step + step + OVERLAP) for i in range(count))
    return tuple(_strip(parts, layout.width, top, end, title) for top, end in drawn)


Part = tuple[float, float, str]
"""From where to where it goes, in height, and what is drawn."""


def _parts(sheet: Sheet, layout: Layout) -> list[Part]:
    out: list[Part] = []
    for path, bundle in zip(routes(sheet, layout), sheet.bundles, strict=True):
        ys = [float(y) for y in HEIGHTS.findall(path)]
        out.append((min(ys), max(ys), svg.path(path, f"wire {bundle.sort}")))
    for block in sheet.blocks.values():
        y = layout.items[block.key].y
        out.append((y, y + height(block), f"<g>{block_drawn(block, layout)}</g>"))
    return out


def _strip(parts: list[Part], wide: float, top: float, end: float, title: str) -> str:
    body = "".join(drawn for low, high, drawn in parts if high >= top and low <= end)
    box = f"0 {svg.num(top)} {svg.num(wide)} {svg.num(end - top)}"
    head = f'<svg xmlns="http://www.w3.org/2000/svg" class="drawing" role="img" aria-label="{escape(title)}"'
    return f'{head} viewBox="{box}">{body}</svg>'
