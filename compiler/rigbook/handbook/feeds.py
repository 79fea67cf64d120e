"""Feeds of circuits and supplies as facts for pages: what they lose, and what they carry."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, NamedTuple

from rigbook.compute.figure import Figure, Missing, Result
from rigbook.handbook.anchors import anchor
from rigbook.handbook.page import Link
from rigbook.units.quantity import Amount

if TYPE_CHECKING:
    from rigbook.compute.feeds import Feed
    from rigbook.compute.results import Results
    from rigbook.handbook.book import Book
    from rigbook.language.record import Record


class FeedRow(NamedTuple):
    """A cable whose length and area are known."""

    feed: Link
    length: str
    area: str
    current: str
    drop: str
    volts: str
    whole: str
    """Of a circuit, along the feed of its supply too; empty of a supply."""
    over: bool


class CarryRow(NamedTuple):
    """A cable whose area is known."""

    feed: Link
    breaker: str
    area: str
    laid: str
    carries: str
    least: str
    """Smallest standard area that carries the breaker; empty where it does, or none is known."""
    thin: bool
    why: str
    """Why there is no figure; empty where there is one."""


def feeds(book: Book, got: Results) -> Iterator[FeedRow]:
    """Supplies, then circuits, whose voltage drop is known."""
    most = 100 * got.limits["voltage-drop"]
    for s in got.mains.supplies:
        current = max((a for _, a in s.by_phase), key=lambda a: a.value, default=None)
        if current is not None:
            yield from _feed(Link(s.name, f"#{anchor('supply', s.name)}"), s.record, s.feed, current.text, None, most)
    for c in got.mains.circuits:
        whole = got.mains.whole_drop(c)
        yield from _feed(book.link("circuit", c.name), c.record, c.feed, c.eighth.text, whole, most)


def _feed(
    link: Link, record: Record, feed: Feed, current: str, whole: Result | None, most: float
) -> Iterator[FeedRow]:
    if not (isinstance(feed.drop, Figure) and isinstance(feed.drop_volts, Figure)):
        return
    length, area = (record.get(key).page() for key in ("length", "area"))
    total = whole if isinstance(whole, Figure) else feed.drop
    shown = total.text if whole is not None else ""
    yield FeedRow(link, length, area, current, feed.drop.text, feed.drop_volts.text, shown, total.value > most)


def carrying(book: Book, got: Results) -> Iterator[CarryRow]:
    """Supplies, circuits and cables between distributions, with what they carry against what protects them."""
    for s in got.mains.supplies:
        yield from _carry(Link(s.name, f"#{anchor('supply', s.name)}"), s.record, s.feed, s.rating)
    for c in got.mains.circuits:
        yield from _carry(book.link("circuit", c.name), c.record, c.feed, c.rating)
    for lead in got.mains.leads:
        area = lead.cable.kind.get("area").page() if lead.cable.kind else ""
        carries, thin = _text(lead.carries, lead.needs.value)
        link = book.link("unit", lead.to)
        yield CarryRow(link, lead.needs.text, area, "C", carries, "", thin, _why(lead.carries))


def _carry(link: Link, record: Record, feed: Feed, rating: float | None) -> Iterator[CarryRow]:
    area = record.get("area")
    if area is None or rating is None:
        return
    carries, thin = _text(feed.carries, rating)
    least = Amount(f"{feed.least_area:g}", "mm²") if thin and feed.least_area else ""
    laid = str(record.get("laid") or "C")
    yield CarryRow(
        link, Amount(f"{rating:g}", "A"), area.page(), laid, carries, least, thin, _why(feed.carries)
    )  # fmt: skip


def _text(carries: Result, needs: float) -> tuple[str, bool]:
    return (carries.text, carries.value < needs) if isinstance(carries, Figure) else ("", False)


def _why(carries: Result) -> str:
    return carries.why if isinstance(carries, Missing) else ""
