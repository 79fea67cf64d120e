"""Radio: each unit's frequency, the spectrum as a drawing, spacing, intermodulation, and the nearest clean set."""

from __future__ import annotations

from collections.abc import Iterator
from types import MappingProxyType
from typing import TYPE_CHECKING, NamedTuple

from rigbook.compute.figure import Figure
from rigbook.compute.results import results
from rigbook.graph.kinds import CHANNEL
from rigbook.handbook.anchors import anchor
from rigbook.handbook.drawings import spectrum
from rigbook.handbook.drawings.spectrum import Mark, Stretch
from rigbook.handbook.page import Link, Page
from rigbook.records import frozen
from rigbook.text.phrase import joined, phrase
from rigbook.units.quantity import Amount

if TYPE_CHECKING:
    from markupsafe import Markup

    from rigbook.compute.radio import Carrier, Radio
    from rigbook.handbook.book import Book
    from rigbook.plan.model import Channel


@frozen
class ChannelRow:
    """A radio channel."""

    anchor: str
    unit: Link
    transmitter: str
    frequency: str
    bandwidth: str
    nearest: str
    """Distance to the nearest other carrier; empty where it is alone."""
    tunes: str
    """What receiver and transmitter tune to."""
    outside: str
    """What it lies outside of, in words; empty where it does not."""
    hit: bool
    """A product of others lands on it."""
    carries: str
    text: Markup


class CloseRow(NamedTuple):
    """Two carriers too near to each other."""

    a: Link
    b: Link
    apart: str


class ProductRow(NamedTuple):
    """A product that lands on a carrier."""

    victim: Link
    frequency: str
    offset: str
    kind: str
    sources: tuple[Link, ...]


class ProposalRow(NamedTuple):
    """A channel in the nearest clean set."""

    unit: Link
    now: str
    proposed: str
    """Empty where no place was found."""
    moved: str
    stays: bool


@frozen
class RadioPage:
    """Data of the page."""

    channels: tuple[ChannelRow, ...]
    bands: tuple[str, ...]
    """Bands that the plan allows."""
    drawing: Markup
    close: tuple[CloseRow, ...]
    products: tuple[ProductRow, ...]
    looked_at: str
    proposal: tuple[ProposalRow, ...]
    clean: bool
    """Nothing is too near, hit or out of band: the plan's own set is the proposal."""
    spacing: str
    step: str
    guards: str
    text: Markup


def page(book: Book) -> Page | None:
    """The radio page; none where the plan has no radio channel."""
    from markupsafe import Markup

    radio = results(book.rig).radio
    if not radio.carriers:
        return None
    proposal = tuple(proposals(book, radio))
    data = RadioPage(
        channels=tuple(channel(book, radio, c) for c in radio.carriers),
        bands=tuple(_band(a, b) for a, b in radio.allowed),
        drawing=Markup(drawing(book, radio)),
        close=tuple(CloseRow(_link(book, p.a), _link(book, p.b), p.apart.text) for p in radio.close),
        products=tuple(
            ProductRow(
                _link(book, p.victim), p.frequency.text, p.offset.text, p.kind,
                tuple(_link(book, c) for c in p.sources),
            )
            for p in radio.products
        ),
        looked_at=radio.looked_at.text,
        proposal=proposal,
        clean=all(row.stays for row in proposal),
        spacing=radio.spacing.text,
        step=radio.step.text,
        guards=joined(dict.fromkeys(radio.guard(c).text for c in radio.carriers)),
        text=book.text_of(radio.record),
    )  # fmt: skip
    return Page("radio", phrase("Radio"), "radio.html", data, phrase("engineer"))


def _band(low_hz: float, high_hz: float) -> str:
    """`606–614 MHz`."""
    low, high = (Amount(f"{hz / 1e6:.9g}", unit) for hz, unit in ((low_hz, ""), (high_hz, "MHz")))
    return phrase("%(low)s–%(high)s", low=low, high=high)


def _link(book: Book, carrier: Carrier) -> Link:
    unit = book.plan.units.get(carrier.name)
    return book.link("carrier", carrier.name, unit.title if unit else carrier.name)


def channel(book: Book, radio: Radio, carrier: Carrier) -> ChannelRow:
    """A channel with what is near it."""
    unit, record = book.plan.units.get(carrier.name), carrier.record
    hit = any(p.victim is carrier for p in radio.products)
    nearest = radio.nearest(carrier)
    return ChannelRow(
        anchor=anchor("carrier", carrier.name),
        unit=book.link("unit", unit.name, unit.title) if unit else Link(carrier.name, ""),
        transmitter=book.kind_title(record.get("transmitter")) if record.get("transmitter") else "",
        frequency=carrier.frequency.text,
        bandwidth=Amount(f"{carrier.bandwidth_hz / 1e3:g}", "kHz"),
        nearest=nearest.text if isinstance(nearest, Figure) else "",
        tunes=joined(_band(a, b) for a, b in carrier.bands),
        outside=OUTSIDE.get(radio.outside(carrier), ""),
        hit=hit,
        carries=carries(book, carrier),
        text=book.text_of(record),
    )


OUTSIDE = MappingProxyType(
    {
        "allowed": phrase("outside the bands of the plan"),
        "receiver": phrase("outside what it tunes to"),
    }
)


def carries(book: Book, carrier: Carrier) -> str:
    """What goes over it: the inputs that listen to a receiver, the mixes that an in-ear transmitter sends."""
    sockets = [s.id for s in book.sockets_of(carrier.name)]
    heard = [c for s in sockets for c in _listening(book, s)]
    names = [c.name for c in heard] or [n for s in sockets for n in book.carried.get(s, ())]
    return joined(dict.fromkeys(names))


def _listening(book: Book, socket: str) -> Iterator[Channel]:
    """Channels that a socket's signal comes to, before any bus."""
    net, todo, seen = book.rig.net, [socket], {socket}
    while todo:
        node = todo.pop()
        if node not in net:
            continue
        if net.nodes[node]["kind"] == CHANNEL:
            yield net.nodes[node]["channel"]
            continue
        found = [edge[1] for edge, _ in book.rig.edges_out(node) if edge[1] not in seen]
        seen.update(found)
        todo += reversed(found)


def drawing(book: Book, radio: Radio) -> str:
    """The spectrum, with what it shows in words."""
    away = {c.name: f.value * 1e6 for c, f in radio.proposal if f}
    hit = {p.victim.name for p in radio.products}
    marks = [
        Mark(
            c.name, c.hz, c.bandwidth_hz, book.link("carrier", c.name).href, away.get(c.name, c.hz), c.name in hit
        )
        for c in radio.carriers
    ]  # fmt: skip
    ranked = sorted(radio.carriers, key=lambda c: c.hz)
    colon = book.tongue.sign(": ")
    words = book.tongue.sign("; ").join(f"{c.name}{colon}{book.tongue.words(c.frequency.text)}" for c in ranked)
    return spectrum.draw(
        [Stretch(a, b) for a, b in radio.windows],
        [Stretch(a, b) for a, b in radio.allowed],
        marks,
        radio.product_places,
        book.say("Spectrum of %(title)s", title=book.plan.title),
        words,
    )


def proposals(book: Book, radio: Radio) -> Iterator[ProposalRow]:
    """The nearest clean set."""
    for carrier, figure in radio.proposal:
        if figure is None:
            yield ProposalRow(_link(book, carrier), carrier.frequency.text, "", "", False)
            continue
        moved = radio.moved(carrier, figure)
        stays = abs(moved.value) < 0.5
        size = Amount(moved.amount.lstrip("-"), moved.unit)
        words = phrase("%(amount)s up", amount=size) if moved.value > 0 else phrase("%(amount)s down", amount=size)
        yield ProposalRow(_link(book, carrier), carrier.frequency.text, figure.text, "" if stays else words, stays)
