"""Static files of a theme that the pages of a view use: those that a page names, and those that these name."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from typing import Final

TEXTS: Final = (".css", ".js", ".svg", ".webmanifest")
"""Static files that may name others."""
BEFORE: Final = re.compile(rb"[\w.-]")
AFTER: Final = re.compile(rb"[\w-]")
"""What makes an address a part of a longer one."""


def used(static: Mapping[str, bytes], pages: Iterable[bytes]) -> dict[str, bytes]:
    """The files of `static` that are needed, in their order. What nobody names would be carried about for nothing."""
    todo = [name for name in static if any(_names(page, name.encode()) for page in pages)]
    kept = set(todo)
    while todo:
        name = todo.pop()
        if name.endswith(TEXTS):
            for other in static:
                if other not in kept and _names(static[name], other.removeprefix("static/").encode()):
                    kept.add(other)
                    todo.append(other)
    return {name: data for name, data in static.items() if name in kept}


def _names(text: bytes, name: bytes) -> bool:
    """True where a file's address stands in a text: a longer name that ends alike is another file."""
    at = text.find(name)
    while at >= 0:
        before, after = text[max(at - 1, 0) : at], text[at + len(name) : at + len(name) + 1]
        if not BEFORE.match(before) and not AFTER.match(after):
            return True
        at = text.find(name, at + 1)
    return False
