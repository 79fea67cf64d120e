"""What the Find field finds: every device, socket, cable, channel, bus, person and page of a view, with its place.

A thing is in it only where a page of this view names its place, so that the file gives away nothing and every line of
it leads somewhere.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Iterator, Mapping
from html import unescape
from typing import TYPE_CHECKING, Final, NamedTuple

from rigbook.graph.codes import bare
from rigbook.graph.words import side
from rigbook.handbook.contacts import contacts
from rigbook.handbook.devices import where
from rigbook.handbook.input_list import source_words, switches
from rigbook.handbook.words import bus_words, role_words, short
from rigbook.plan.model import Unit
from rigbook.text.phrase import joined, phrase
from rigbook.walk.line_check import line_check
from rigbook.walk.steps import steps

if TYPE_CHECKING:
    from rigbook.handbook.book import Book
    from rigbook.handbook.page import Page

NAME: Final = "find-data.js"
SORTS: Final = (
    phrase("Page"),
    phrase("Device"),
    phrase("Rack"),
    phrase("Channel"),
    phrase("Bus"),
    phrase("Output"),
    phrase("Way of the signal"),
    phrase("Step of the walk test"),
    phrase("Line check"),
    phrase("Cable"),
    phrase("Socket"),
    phrase("Circuit"),
    phrase("Radio channel"),
    phrase("Audience area"),
    phrase("Person"),
    phrase("Part of a page"),
)
"""Words for the sorts of things, in the order in which equals are shown."""
PAGE, DEVICE, RACK, CHANNEL, BUS, OUTPUT, WAY, STEP, LINE, CABLE, SOCKET, CIRCUIT, CARRIER, AREA, PERSON, PART = range(
    len(SORTS)
)
HEADING: Final = re.compile(r'<h2 id="([^"]+)"[^>]*>(.*?)</h2>', re.S)


class Row(NamedTuple):
    """A thing that is found."""

    sort: int
    text: str
    """As it is called."""
    detail: str
    """What it is, in a few words; not searched."""
    href: str
    words: str = ""
    """Other words by which it is found."""


def find_data(book: Book, pages: Iterable[Page], files: Mapping[str, bytes]) -> bytes:
    """The file, which a script tag reads, so that it works without a server."""
    made = tuple(pages)
    html = {name: held.decode("utf-8") for name, held in files.items() if name.endswith(".html")}
    places = {name: _places(held) for name, held in html.items()}
    say = book.tongue.words
    found = []
    for row in (*_pages(made), *things(book), *_parts(made, html)):
        page, _, place = row.href.partition("#")
        if page in places and (not place or place in places[page]):
            found.append(row)
    sorts = sorted({row.sort for row in found})
    rows = [
        [sorts.index(r.sort), str(say(r.text)), str(say(r.detail)), r.href, str(say(r.words))] for r in found
    ]
    about = [sorts.index(sort) for sort in (STEP, LINE, PART) if sort in sorts]
    data = {"sorts": [str(say(SORTS[sort])) for sort in sorts], "about": about, "rows": rows}
    return f"window.rigbookFind={json.dumps(data, ensure_ascii=False, separators=(',', ':'))};\n".encode()


def _places(page: str) -> frozenset[str]:
    """What the parts of a page are called, by its attributes `id`; cut at them, in a tenth of the time of a search."""
    return frozenset(rest.partition('"')[0] for gap in " \n\t\r" for rest in page.split(f'{gap}id="')[1:])


def things(book: Book) -> Iterator[Row]:
    """Everything of the plan that has a place; the address is empty where this view has no such page."""
    yield from _gear(book)
    yield from _signals(book)
    yield from _walk(book)
    yield from _wires(book)
    for person in contacts(book):
        yield Row(PERSON, person.name or person.role, person.does, book.href("contact", person.role), person.role)
    for sort, kind, section, key in (
        (CIRCUIT, "circuit", "power", "circuits"),
        (CARRIER, "carrier", "radio", "channels"),
        (AREA, "area", "room", "audience"),
    ):
        for name, record in book.entries(book.section(section), key):
            frequency = record.get("frequency")
            yield Row(sort, name, frequency.page() if frequency else "", book.href(kind, name))


def _gear(book: Book) -> Iterator[Row]:
    for unit in book.plan.units.values():
        kind = unit.kind.title if unit.kind else ""
        racked = book.racked.get(unit.name)
        detail = joined(t for t in (kind, racked.rack if racked else where(unit)) if t)
        yield Row(DEVICE, unit.name, detail, book.href("unit", unit.name), _also(unit))
    for rack in book.plan.racks.values():
        title = str(rack.record.get("title") or "")
        yield Row(RACK, rack.name, rack.kind.title if rack.kind else "", book.href("rack", rack.name), title)


def _also(unit: Unit) -> str:
    title = unit.title if unit.title != unit.name else ""
    return joined((t for t in (title, unit.kind.title if unit.kind else "", unit.family) if t), " ")


def _signals(book: Book) -> Iterator[Row]:
    for channel in book.plan.channels:
        name = f"{channel.desk} {channel.number}"
        detail = joined(t for t in (source_words(book, channel), ", ".join(s.id for s in channel.plugged)) if t)
        preamp = joined(switches(channel), " ")
        numbered = f"ch {channel.number} ch{channel.number} {channel.desk}"
        also = joined((numbered, source_words(book, channel), preamp), " ")
        if channel.record.get("phantom"):
            also = joined((also, "48v", phrase("phantom")), " ")
        text = book.desk_name(channel.desk, f"{channel.number} {channel.name}")
        yield Row(CHANNEL, text, detail, book.href("channel", name), joined((phrase("channel"), also), " "))
    for bus in book.plan.buses.values():
        name = book.desk_name(bus.desk, bus.name)
        also = joined((bus.title if bus.title != bus.name else "", bus.desk, bus_words(bus)), " ")
        yield Row(BUS, name, role_words(bus), book.href("bus", name), joined((role_words(bus), also), " "))
    for output in book.plan.outputs:
        name = book.desk_name(output.desk, output.name)
        yield Row(OUTPUT, name, ", ".join(s.id for s, _ in output.sockets), book.href("output", name))
    for box in book.rig.boxes:
        yield Row(WAY, box, phrase("every way to it"), book.href("box", box))


def _walk(book: Book) -> Iterator[Row]:
    """Steps and inputs of the walk test, by their titles, their numbers and the keys that a record names them by."""
    for number, step in enumerate(steps(book.rig), 1):
        detail = phrase("step %(n)s", n=number)
        yield Row(STEP, step.title, detail, book.href("step", step.key), joined((detail, step.key, step.desk), " "))
    for line in line_check(book.rig):
        channel = line.channel
        text = book.desk_name(channel.desk, f"{channel.number} {side(channel.name, line.side)}")
        also = joined((phrase("Line check"), line.key, f"line {channel.number}", channel.desk), " ")
        yield Row(LINE, text, line.socket, book.href("step", line.key), also)


def _wires(book: Book) -> Iterator[Row]:
    for sheath, code in book.codes.items():
        first = book.sheaths[sheath][0]
        ends = sheath.replace(" -> ", " → ")
        kind = first.kind.title if first.kind else first.kind_name
        yield Row(CABLE, code, ends, book.href("cable", sheath), joined((bare(code), sheath, kind), " "))
    for unit in book.plan.units.values():
        ports = unit.kind.ports if unit.kind else {}
        named = {s.port for s in book.sockets_of(unit.name)}
        for port in (*(p for p in ports if p in named), *sorted(named - ports.keys())):
            name = f"{unit.name}/{port}"
            yield Row(SOCKET, name, _inside(book, name), book.href("socket", name))


def _inside(book: Book, socket: str) -> str:
    """What is patched to a socket, what is plugged into it, or what it carries."""
    patched, source, _ = book.desk_side(socket)
    if patched:
        return joined(link.text for link in patched)
    return source or short(book.carried.get(socket, ()), 2)


def _pages(made: tuple[Page, ...]) -> Iterator[Row]:
    for page in made:
        yield Row(PAGE, page.title, page.reader, f"{page.slug}.html")


def _parts(made: tuple[Page, ...], html: Mapping[str, str]) -> Iterator[Row]:
    """Headings as they stand on the pages."""
    for page in made:
        name = f"{page.slug}.html"
        for place, held in HEADING.findall(html[name]):
            bare_text = re.sub(r'<span aria-hidden="true">.*?</span>|<[^>]*>', " ", held)
            text = " ".join(unescape(bare_text).split())
            if text:
                yield Row(PART, text, page.title, f"{name}#{place}")
