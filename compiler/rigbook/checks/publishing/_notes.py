"""Every text of the plan, rendered once: what is wrong with its links and pictures."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

from rigbook.findings.finding import Finding
from rigbook.findings.place import Sources
from rigbook.graph.named import place_of
from rigbook.graph.rig import Rig
from rigbook.language.record import Entry, Record
from rigbook.plan.model import Plan
from rigbook.records import frozen
from rigbook.text.pictures import find_picture
from rigbook.text.tree import Scalar

CREW = "crew"
HOLDERS = (Scalar, Record, Entry, tuple, list)
"""What a text can be, or stand in."""


@frozen
class Text:
    """A text with who may read it: `crew`, `guest` or `public`."""

    scalar: Scalar
    view: str
    record: Record


def texts(rig: Rig) -> tuple[Text, ...]:
    """Every Markdown text of the plan, of its own kinds too; each once."""
    got: tuple[Text, ...] | None = rig.__dict__.get("_texts")
    if got is None:
        got = rig.__dict__["_texts"] = tuple(_texts(rig.plan))
    return got


def _texts(plan: Plan) -> Iterator[Text]:
    records: list[Any] = [u.record for u in plan.units.values()]
    records += [c.record for c in plan.channels] + [b.record for b in plan.buses.values()]
    records += [r.record for r in plan.racks.values()]
    records += [kind.record for kind in plan.kinds.values() if not kind.shipped]
    records += list(plan.sections.values())
    seen = set()
    for text in _within(records, CREW):
        if text.scalar.span not in seen:
            seen.add(text.scalar.span)
            yield text


def _within(value: Any, view: str, record: Record | None = None) -> Iterator[Text]:
    if isinstance(value, Scalar) and record is not None:
        yield Text(value, view, record)
    elif isinstance(value, Record):
        own = str(value.get("for", view))
        for inner in value.values.values():
            if isinstance(inner, HOLDERS):
                yield from _within(inner, own, value)
    elif isinstance(value, Entry):
        yield from _within(value.value, view, record)
    elif isinstance(value, tuple | list):
        for inner in value:
            if isinstance(inner, HOLDERS):
                yield from _within(inner, view, record)


def note_findings(rig: Rig, sources: Sources, root: Path) -> list[Finding]:
    """What is wrong with the links and pictures of every text."""
    found: list[Finding] = []
    for text in texts(rig):
        # without these signs Markdown has neither link nor picture, and the parser need not be loaded
        if "[" in text.scalar.text or "<" in text.scalar.text:
            found += _of_one(rig, text.scalar, sources, root)
    return found


def _of_one(rig: Rig, scalar: Scalar, sources: Sources, root: Path) -> list[Finding]:
    from rigbook.text.notes import render

    folder = scalar.span.file.rpartition("/")[0]

    def picture(path: str) -> str | None:
        return path if find_picture(root, folder, path) else None

    def link(name: str) -> str | None:
        return "#" if place_of(rig, name) else None

    source = sources.get(scalar.span.file)
    return render(scalar.text, scalar.span, picture=picture, link=link, source=source)[1]
