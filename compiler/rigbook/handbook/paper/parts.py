"""What of a page is no part of the book, but printed by itself: on its own stock, or only when something is wrong."""

from __future__ import annotations

import copy
from collections.abc import Collection
from typing import Any, Final, NamedTuple


class Apart(NamedTuple):
    """A file beside the book."""

    name: str
    """What the name of the file ends with."""
    slug: str
    """The page it is taken from."""
    classes: tuple[str, ...]
    """Classes of the parts that go into it."""
    framed: bool
    """Whether it has the title block and the heading of its page; stock has none."""


APART: Final = (
    Apart("labels", "labels", ("part-sheets",), False),
    Apart("strips", "labels", ("part-strips", "part-cards"), False),
    Apart("fault-patterns", "walk-test", ("paper",), True),
)
FRAME: Final = ("title-block", "h1")


def without(page: Any) -> Any:
    """A page as it goes into the book: a copy without the parts that are printed by themselves."""
    kept = copy.deepcopy(page)
    slug = next((body.get("class", "").removeprefix("on-") for body in kept.iter("body")), "")
    _drop(kept, {name for apart in APART if apart.slug == slug for name in apart.classes})
    return kept


def part(page: Any, apart: Apart) -> Any:
    """A copy of a page with one kind of part alone; None where it has none."""
    kept = copy.deepcopy(page)
    if not any(_is(element, apart.classes) for element in kept.iter()):
        return None
    for block in list(kept.iter("body")):
        _keep(block, apart)
    return kept


def _is(element: Any, classes: Collection[str]) -> bool:
    return any(name in classes for name in element.get("class", "").split())


def _drop(element: Any, classes: Collection[str]) -> None:
    for child in list(element):
        if _is(child, classes):
            element.remove(child)
        else:
            _drop(child, classes)


def _keep(element: Any, apart: Apart) -> None:
    """Take out whatever neither belongs to the part nor holds it."""
    for child in list(element):
        if _is(child, apart.classes) or (apart.framed and (child.tag in FRAME or _is(child, FRAME))):
            continue
        if any(_is(inner, apart.classes) for inner in child.iter()) or child.tag == "main":
            _keep(child, apart)
        else:
            element.remove(child)
