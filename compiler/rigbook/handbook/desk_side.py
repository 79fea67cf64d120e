"""What the desks do with each socket: the channels that listen to it, the bus legs that leave by it, its source."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from rigbook.handbook.page import Link
from rigbook.plan.model import Bus, Channel, Plan
from rigbook.text.phrase import phrase

if TYPE_CHECKING:
    from rigbook.handbook.book import Book


def patched(book: Book) -> Mapping[str, tuple[Link, ...]]:
    """Channels and outputs of each socket, by `unit/port`."""
    out: dict[str, list[Link]] = {}
    for channel in book.plan.channels:
        text = book.desk_name(
            channel.desk, phrase("channel %(number)s %(name)s", number=channel.number, name=channel.name)
        )
        for socket in channel.sockets:
            out.setdefault(socket.id, []).append(book.link("channel", f"{channel.desk} {channel.number}", text))
    for output in book.plan.outputs:
        name = book.desk_name(output.desk, output.name)
        for socket, _ in output.sockets:
            out.setdefault(socket.id, []).append(book.link("output", name, phrase("bus %(name)s", name=name)))
    owners: tuple[Channel | Bus, ...] = (*book.plan.channels, *book.plan.buses.values())
    for owner in owners:
        for socket in (*owner.insert.sends, *owner.insert.returns) if owner.insert else ():
            out.setdefault(socket.id, []).append(_insert(book, owner))
    return {socket: tuple(dict.fromkeys(links)) for socket, links in out.items()}


def _insert(book: Book, owner: Channel | Bus) -> Link:
    """What goes out to outboard equipment, and comes back."""
    if isinstance(owner, Channel):
        text = phrase("insert of channel %(number)s %(name)s", number=owner.number, name=owner.name)
        return book.link("channel", f"{owner.desk} {owner.number}", book.desk_name(owner.desk, text))
    name = book.desk_name(owner.desk, owner.name)
    return book.link("bus", name, phrase("insert of bus %(name)s", name=name))


def sources(plan: Plan) -> Mapping[str, tuple[str, str]]:
    """The source plugged straight into each socket, and the name of its tick box, by `unit/port`."""
    return {
        socket.id: (channel.source_kind.title if channel.source_kind else channel.source_key, input_tick(channel))
        for channel in plan.channels
        if channel.source_key
        for socket in channel.plugged
    }


def input_tick(channel: Channel) -> str:
    """Name of the tick box of a channel: the same wherever it is shown, so that one tick counts everywhere."""
    return f"input {channel.desk} {channel.number}"
