"""Square codes (ISO/IEC 18004) as drawings, with their quiet zone."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Final

from rigbook.handbook.qr_mask import QUIET, masked
from rigbook.records import frozen

if TYPE_CHECKING:
    from markupsafe import Markup


DARK: Final = re.compile("1+")


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

    rows = masked(text)
    side = len(rows) + 2 * QUIET
    runs = ((x.start() + QUIET, y, len(x[0])) for y, row in enumerate(rows, QUIET) for x in DARK.finditer(row))
    path = "".join([f"M{x} {y}h{n}v1h-{n}z" for x, y, n in runs])
    svg = Markup(
        '<svg class="qr" viewBox="0 0 {0} {0}" shape-rendering="crispEdges" aria-hidden="true">'
        '<path fill="#fff" d="M0 0h{0}v{0}H0z"/><path d="{1}"/></svg>'
    )
    return Code(svg.format(side, path), side, text)
