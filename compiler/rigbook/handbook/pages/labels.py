"""Labels: the scheme, the cable schedule, and sheets to print: both ends of every cable, units, sockets, racks."""

from __future__ import annotations

from collections.abc import Iterator
from types import MappingProxyType
from typing import TYPE_CHECKING, Final

from rigbook.compute.label_stock import LabelStock, label_stock
from rigbook.compute.results import results
from rigbook.graph.codes import ALPHABET, LETTERS, LINE
from rigbook.handbook.anchors import href
from rigbook.handbook.cable_list import CableKind, by_kind
from rigbook.handbook.label_sheets import Label, Labels, Measures
from rigbook.handbook.page import Page
from rigbook.handbook.qr import code
from rigbook.handbook.strips import Strip, strips
from rigbook.records import frozen
from rigbook.text.phrase import phrase

if TYPE_CHECKING:
    from markupsafe import Markup

    from rigbook.handbook.book import Book


CARRIES: Final = MappingProxyType(
    {
        "line": phrase("microphone and line"),
        "speaker": phrase("loudspeaker"),
        "100 V line": phrase("100 V line"),
        "network": phrase("network"),
        "digital": phrase("digital audio"),
        "radio": phrase("aerial"),
        "mains": phrase("mains power"),
    }
)
"""What the first letter of a code stands for, by what the kind of cable carries."""


@frozen
class Card:
    """A large label for a rack."""

    title: str
    name: str
    kind: str
    weight: str
    lifts: str
    units: tuple[str, ...]
    """From the top down."""
    qr: Markup


@frozen
class Sheets:
    """Data of the page."""

    stock: LabelStock
    measures: Measures
    published: str
    letters: tuple[tuple[str, str], ...]
    """First letter of a code and what such a cable carries."""
    alphabet: str
    kinds: tuple[CableKind, ...]
    """The cable schedule."""
    sheets: tuple[tuple[Label | None, ...], ...]
    """Labels, a sheet at a time; None for a place that is used up."""
    labels: int
    coarse: bool
    """True where square codes were left out, as they would be too fine to read."""
    strips: tuple[Strip, ...]
    cards: tuple[Card, ...]


def page(book: Book) -> Page | None:
    """The labels; none where the plan has nothing to label."""
    stock = label_stock(book.plan)
    maker = Labels(book, stock)
    every = tuple(maker.every())
    if not every:
        return None
    data = Sheets(
        stock=stock,
        measures=maker.sizes,
        published=maker.published,
        letters=tuple((LETTERS.get(carries, LINE), words) for carries, words in CARRIES.items()),
        alphabet=ALPHABET,
        kinds=tuple(by_kind(book)),
        sheets=tuple(_sheets(every, stock)),
        labels=len(every),
        coarse=stock.codes and any(label.qr is None for label in every),
        strips=tuple(strips(book, stock)),
        cards=tuple(_cards(book, maker.published)),
    )
    return Page("labels", phrase("Labels"), "labels.html", data, phrase("crew"))


def _sheets(every: tuple[Label, ...], stock: LabelStock) -> Iterator[tuple[Label | None, ...]]:
    places: tuple[Label | None, ...] = (*(None for _ in range(stock.skip)), *every)
    for at in range(0, len(places), stock.per_sheet):
        yield places[at : at + stock.per_sheet]


def _cards(book: Book, published: str) -> Iterator[Card]:
    """A card for each rack."""
    figures = {f.rack.name: f for f in results(book.rig).racks}
    for rack in book.plan.racks.values():
        place = href("rack", rack.name)
        rows = sorted((*rack.front, *rack.rear), key=lambda row: -row[0])
        yield Card(
            title=str(rack.record.get("title") or rack.name),
            name=rack.name,
            kind=rack.kind.title if rack.kind else "",
            weight=figures[rack.name].weight.text,
            lifts=str(rack.record.get("lifts") or ""),
            units=tuple(f"{low} {item.unit}" for low, item in rows if item.unit),
            qr=code(f"{published}/{place}" if published else rack.name).svg,
        )
