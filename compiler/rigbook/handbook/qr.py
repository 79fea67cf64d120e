"""Square codes (ISO/IEC 18004) as drawings, with their quiet zone."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rigbook.handbook.qr_mask import QUIET, masked
from rigbook.records import frozen

if TYPE_CHECKING:
    from markupsafe import Markup


@frozen
class Code:
    """A code as drawn."""

    svg: Markup
    modules: int
    """Modules from edge to edge, the quiet zone with them."""
    text: str
    """What it says."""


def code(text: str) -> Code:
    """The smallest code that holds a text, with error correction M (15 %) or better."""
    from markupsafe import Markup

    # beyond ASCII the alphabet is named in the code (ECI), as readers otherwise guess it
    named = not text.isascii()
    rows = masked(text, error="m", boost_error=True, encoding="utf-8" if named else None, eci=named)
    side = len(rows) + 2 * QUIET
    path = "".join(f"M{x + QUIET} {y + QUIET}h{n}v1h-{n}z" for y, row in enumerate(rows) for x, n in _runs(row))
    svg = Markup(
        '<svg class="qr" viewBox="0 0 {0} {0}" shape-rendering="crispEdges" aria-hidden="true">'
        '<path fill="#fff" d="M0 0h{0}v{0}H0z"/><path d="{1}"/></svg>'
    )
    return Code(svg.format(side, path), side, text)


def _runs(row: list[int]) -> list[tuple[int, int]]:
    """(first module, modules) of each dark run."""
    out: list[tuple[int, int]] = []
    for x, dark in enumerate(row):
        if dark and x and row[x - 1]:
            out[-1] = (out[-1][0], out[-1][1] + 1)
        elif dark:
            out.append((x, 1))
    return out
