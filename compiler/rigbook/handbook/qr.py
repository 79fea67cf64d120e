"""Square codes (ISO/IEC 18004) as drawings, with their quiet zone."""

from __future__ import annotations

import importlib
import re
import sys
from types import ModuleType
from typing import TYPE_CHECKING, Any, Final

from rigbook.records import frozen

if TYPE_CHECKING:
    from markupsafe import Markup


QUIET: Final = 4
"""Modules of white on each side: ISO/IEC 18004 asks for four."""
MASK: Final = 3
"""The pattern laid over the data. A reader is told which it is and takes any of the eight; weighing all of them would
be five sixths of the work, and this one is most often the best for addresses of a handbook's lines."""
DARK: Final = re.compile(rb"\x01+")


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

    late("urllib.request")  # segno's writers load it by the way, for nothing that a drawing needs
    import segno

    # beyond ASCII the alphabet is named in the code (ECI), as readers otherwise guess it
    named = not text.isascii()
    made = segno.make(text, micro=False, error="m", encoding="utf-8" if named else None, eci=named, mask=MASK)
    rows = [bytes(row) for row in made.matrix]
    side = len(rows) + 2 * QUIET
    runs = ((x.start() + QUIET, y, len(x[0])) for y, row in enumerate(rows, QUIET) for x in DARK.finditer(row))
    path = "".join([f"M{x} {y}h{n}v1h-{n}z" for x, y, n in runs])
    svg = Markup(
        '<svg class="qr" viewBox="0 0 {0} {0}" shape-rendering="crispEdges" aria-hidden="true">'
        '<path fill="#fff" d="M0 0h{0}v{0}H0z"/><path d="{1}"/></svg>'
    )
    return Code(svg.format(side, path), side, text)


def late(name: str) -> None:
    """Let a module be loaded when something of it is first asked for: this one brings mail and encryption with it, a
    twentieth of the time of a build.
    """
    if name in sys.modules:
        return
    stand_in = ModuleType(name)

    def found(asked: str) -> Any:
        if sys.modules.get(name) is stand_in:
            del sys.modules[name]
        return getattr(importlib.import_module(name), asked)

    stand_in.__dict__["__getattr__"] = found  # PEP 562
    sys.modules[name] = stand_in
    setattr(importlib.import_module(name.rpartition(".")[0]), name.rpartition(".")[2], stand_in)
