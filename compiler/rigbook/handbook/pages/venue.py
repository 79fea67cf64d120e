"""Venue: the technical specification. In the public view, only what is marked public and the figures of the room."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, NamedTuple

from rigbook.handbook.anchors import anchor
from rigbook.handbook.contacts import Contact, contacts
from rigbook.handbook.page import Page
from rigbook.handbook.views import PUBLIC
from rigbook.language.record import Record
from rigbook.plan.model import Unit
from rigbook.records import frozen
from rigbook.text.phrase import counted, joined, phrase
from rigbook.units.quantity import Amount, format_si

if TYPE_CHECKING:
    from markupsafe import Markup

    from rigbook.handbook.book import Book

HEADS = (
    (phrase("Desk and stage boxes"), ("desk", "stage box", "splitter", "tie line", "recorder", "player")),
    (phrase("Loudspeakers"), ("speaker", "powered speaker")),
    (phrase("Amplifiers and processing"), ("amplifier", "processor")),
    (phrase("Radio"), ("radio",)),
    (phrase("Other equipment"), ()),
)
"""Headings of the equipment list, and the families under each; the last takes the rest."""


class Fact(NamedTuple):
    """A fact about the room."""

    name: str
    text: str


class Area(NamedTuple):
    """A part of the audience."""

    name: str
    anchor: str
    extent: str
    people: str
    """Sitting or standing, with the height of the ears."""
    text: Markup


class Supply(NamedTuple):
    """A mains supply or circuit."""

    name: str
    text: str


class Kit(NamedTuple):
    """How many there are of a kind."""

    number: int
    title: str
    facts: str


@frozen
class Venue:
    """Data of the page."""

    facts: tuple[Fact, ...]
    areas: tuple[Area, ...]
    access: Markup
    hazards: Markup
    text: Markup
    supplies: tuple[Supply, ...]
    kit: tuple[tuple[str, tuple[Kit, ...]], ...]
    contacts: tuple[Contact, ...]
    estimates: bool
    """True where a figure was worked out and not typed."""


def page(book: Book) -> Page | None:
    """The venue page."""
    room = book.section("room")
    inside = book.view != PUBLIC
    data = Venue(
        facts=tuple(facts(room)) if room else (),
        areas=tuple(area(book, name, value) for name, value in book.entries(room, "audience")),
        access=book.note(room.get("access") if room and inside else None),
        hazards=book.note(room.get("hazards") if room and inside else None),
        text=book.text_of(room),
        supplies=tuple(supplies(book)) if inside else (),
        kit=tuple(kit(book)),
        contacts=contacts(book),
        estimates=bool(room and room.get("size") and not room.get("volume")),
    )
    title = phrase("Technical specification") if book.view == PUBLIC else phrase("Venue")
    return Page("venue", title, "venue.html", data, phrase("everyone"))


def facts(room: Record) -> Iterator[Fact]:
    """Figures of the room, as typed; the volume from the size where it is not typed."""
    for key, name in (
        ("stage", phrase("Stage, width × depth × height")),
        ("size", phrase("Room, width × depth × height")),
    ):
        if room.get(key):
            yield Fact(name, room.get(key).text.replace(" x ", " × "))
    size, volume = room.get("size"), room.get("volume")
    if volume:
        yield Fact(phrase("Volume"), volume.page())
    elif size:
        about = format_si(size.width * size.depth * size.height, "volume", 2, page=True)
        yield Fact(phrase("Volume"), phrase("about %(volume)s, from the size", volume=about))
    if room.get("capacity"):
        yield Fact(phrase("People"), str(room.get("capacity")))
    if room.get("mix-position"):
        yield Fact(phrase("Mix position"), room.get("mix-position").text)
    if room.get("noise-limit"):
        over = room.get("noise-limit-over")
        words = phrase(
            "%(level)s, A-weighted, averaged over %(time)s, at the mix position",
            level=room.get("noise-limit").page(),
            time=over.page() if over else Amount("15", "min"),
        )
        yield Fact(phrase("Level limit"), words)
    if room.get("reverberation-time"):
        yield Fact(phrase("Reverberation time, mid"), room.get("reverberation-time").page())
    if room.get("background-noise"):
        words = phrase("%(level)s, A-weighted", level=room.get("background-noise").page())
        yield Fact(phrase("Background noise"), words)


def area(book: Book, name: str, record: Record) -> Area:
    """A part of the audience."""
    corners = [record.get("from"), record.get("to")] if record.get("from") else list(record.get("outline") or ())
    ears = record.get("ear-height")
    people = phrase("standing") if record.get("standing") else phrase("seated")
    return Area(
        name=name,
        anchor=anchor("area", name),
        extent=extent([c.text for c in corners if c]),
        people=joined((people, phrase("ears at %(height)s", height=ears.page()))) if ears else people,
        text=book.text_of(record),
    )


def angles(text: str) -> str:
    """A coverage as printed: `90 × 60°`."""
    return text.replace(" x ", " × ").replace(" deg", "°")


def extent(corners: list[str]) -> str:
    """From corner to corner, as typed."""
    out, *rest = corners or [""]
    for corner in rest:
        out = phrase("%(a)s to %(b)s", a=out, b=corner)
    return out


def supplies(book: Book) -> Iterator[Supply]:
    """Supplies and circuits: what they give and where they come out."""
    power = book.section("power")
    for name, supply in book.entries(power, "supplies"):
        phases = phrase("three phases") if supply.get("phases") == 3 else phrase("one phase")
        words = [phases, *(supply.get(key).page() for key in ("voltage", "frequency", "rating") if supply.get(key))]
        yield Supply(name, joined(words))
    for name, circuit in book.entries(power, "circuits"):
        words = [circuit.get("rating").page()] if circuit.get("rating") else []
        words += [phrase("phase %(name)s", name=circuit.get("phase"))] if circuit.get("phase") else []
        words += [str(circuit.get("outlets"))] if circuit.get("outlets") else []
        words += [phrase("shared with %(what)s", what=circuit.get("shared-with"))] if circuit.get("shared-with") else []
        yield Supply(name, joined(words))


def kit(book: Book) -> Iterator[tuple[str, tuple[Kit, ...]]]:
    """Equipment by family and kind. In the public view only units that are marked public."""
    units = [u for u in book.units if u.kind and (book.view != PUBLIC or book.shows(u.record))]
    named = {family for _, families in HEADS for family in families}
    for head, families in HEADS:
        mine = [u for u in units if (u.family in families if families else u.family not in named)]
        kinds: dict[str, list[Unit]] = {}
        for unit in mine:
            assert unit.kind is not None
            kinds.setdefault(unit.kind.name, []).append(unit)
        if kinds:
            yield head, tuple(_kit(members) for members in kinds.values())


def _kit(members: list[Unit]) -> Kit:
    kind = members[0].kind
    assert kind is not None
    words: list[str] = []
    if kind.get("channels"):
        words.append(counted(int(kind.get("channels")), "%(num)s channel", "%(num)s channels"))
    if kind.get("buses"):
        words.append(counted(int(kind.get("buses")), "%(num)s bus", "%(num)s buses"))
    for key in ("coverage", "range", "peak-level"):
        value = kind.get(key)
        if value is not None:
            shown = value.page() if hasattr(value, "page") else str(getattr(value, "text", ""))
            words.append(angles(shown) if key == "coverage" else shown)
    return Kit(len(members), kind.title, joined(w for w in words if w))
