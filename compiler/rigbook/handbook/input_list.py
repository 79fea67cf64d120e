"""The input list, by channel and by socket."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, NamedTuple

from rigbook.handbook.anchors import anchor
from rigbook.handbook.desk_side import input_tick
from rigbook.handbook.page import Link
from rigbook.handbook.words import insert_words
from rigbook.language.values.names import spoken
from rigbook.plan.model import Channel, Socket
from rigbook.records import frozen
from rigbook.text.phrase import held, joined, phrase
from rigbook.units.quantity import Amount

if TYPE_CHECKING:
    from markupsafe import Markup

    from rigbook.handbook.book import Book, Note


@frozen
class Input:
    """A line of the input list."""

    number: str
    anchor: str
    name: str
    source: str
    units: tuple[Link, ...]
    """The units whose cables bring it, where no microphone or DI is plugged; `source` names them too."""
    plugged: tuple[Link, ...]
    listens: tuple[Link, ...]
    """Sockets that the channel listens to, where they are not those that the source is plugged into."""
    switches: str
    """`48 V, pad, low cut 100 Hz`."""
    stand: str
    cable: str
    notes: tuple[Note, ...]
    text: Markup
    tick: str
    heard: str
    """For the tick of the line check."""


class BySocket(NamedTuple):
    """A line of the input list in the order of the sockets."""

    socket: Link
    channel: Link
    name: str
    source: str
    units: tuple[Link, ...]
    phantom: bool


def by_desk(book: Book) -> Iterator[tuple[str, tuple[Input, ...]]]:
    """The input list of each desk."""
    names = dict.fromkeys(c.desk for c in book.plan.channels)
    for desk in names:
        yield desk if len(names) > 1 else "", tuple(line(book, c) for c in book.plan.channels if c.desk == desk)


def line(book: Book, channel: Channel) -> Input:
    """A line of the input list."""
    record = channel.record
    name = f"{channel.desk} {channel.number}"
    cable = record.get("cable")
    return Input(
        number=str(channel.number),
        anchor=anchor("channel", name),
        name=channel.name,
        source=source_words(book, channel),
        units=cabled_units(book, channel),
        plugged=tuple(book.socket(s) for s in channel.plugged),
        listens=() if channel.plugged == channel.sockets else tuple(book.socket(s) for s in channel.sockets),
        switches=held(joined(switches(channel))),
        stand=book.kind_title(record.get("stand")),
        cable=cable.page() if cable else "",
        notes=book.notes_about(f"channel-{channel.number}", spoken(channel.name)),
        text=book.text_of(record),
        tick=input_tick(channel),
        heard=f"line {name}",
    )


def source_words(book: Book, channel: Channel) -> str:
    """What makes the sound and how it comes in: a kind of microphone, a DI and what is before it, or a cabled unit."""
    if channel.source_kind:
        line = book.kind_title(channel.record.get("line")) if channel.source_key != "line" else ""
        return joined((channel.source_kind.title, line)) if line else channel.source_kind.title
    if channel.source_key:
        return str(channel.record.get(channel.source_key, channel.source_key))
    units = book.plan.units
    return joined(dict.fromkeys(units[u].title if u in units else u for u in _cabled(book, channel)))


def cabled_units(book: Book, channel: Channel) -> tuple[Link, ...]:
    """The units whose cables bring the sound of a channel; none where a source is plugged straight in."""
    if channel.source_kind or channel.source_key:
        return ()
    units = book.plan.units
    names = dict.fromkeys(_cabled(book, channel))
    return tuple(book.link("unit", u, units[u].title) if u in units else Link(u, "") for u in names)


def _cabled(book: Book, channel: Channel) -> list[str]:
    return [p.far.unit for s in channel.plugged for p in book.plugged.get(s.id, ())]


def switches(channel: Channel) -> Iterator[str]:
    """What is set at the preamplifier of a channel."""
    record = channel.record
    if record.get("phantom"):
        yield Amount("48", "V")
    if record.get("pad"):
        yield phrase("pad")
    if record.get("gain"):
        yield phrase("gain %(value)s", value=record.get("gain").page())
    if record.get("low-cut"):
        yield phrase("low cut %(value)s", value=record.get("low-cut").text)
    if record.get("polarity") == "reversed":
        yield phrase("polarity reversed")
    if channel.stereo:
        yield phrase("stereo")
    if channel.insert:
        yield insert_words(channel)
    if record.get("muted"):
        yield phrase("muted")


def by_socket(book: Book) -> Iterator[tuple[Link, tuple[BySocket, ...]]]:
    """The input list in the order of the sockets that sources are plugged into, unit by unit."""
    units = [u for u in book.plan.units.values() if u.kind]
    ports = (f"{u.name}/{p}" for u in units if u.kind for p in u.kind.ports)
    place = {socket: i for i, socket in enumerate(ports)}
    rows = [(s, c) for c in book.plan.channels for s in c.plugged]
    grouped: dict[str, list[BySocket]] = {}
    for socket, channel in sorted(rows, key=lambda r: (place.get(r[0].id, len(place)), r[1].desk, r[1].number)):
        grouped.setdefault(socket.unit, []).append(_socket_line(book, socket, channel))
    for unit, lines in grouped.items():
        yield book.link("unit", unit), tuple(lines)


def _socket_line(book: Book, socket: Socket, channel: Channel) -> BySocket:
    return BySocket(
        book.socket(socket),
        book.channel(channel, book.desk_name(channel.desk, str(channel.number))),
        channel.name,
        source_words(book, channel),
        cabled_units(book, channel),
        bool(channel.record.get("phantom")),
    )
