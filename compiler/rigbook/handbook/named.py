"""Names in running text lead to their places: `top-left, top-right` in a cell of a table."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import TYPE_CHECKING, Final

from rigbook.language.values.names import NAME

if TYPE_CHECKING:
    from markupsafe import Markup

    from rigbook.handbook.book import Book

TOKEN: Final = re.compile(rf"(?<![\w./-])({NAME})((?:/[\w+-]+(?: [\w+-]+)*)?)(?![\w/-])")
"""A name, and perhaps a port of it: `box`, `box/in 3`, `amp-tops/out A`."""


def places(book: Book) -> Mapping[str, str]:
    """The address of each unit, of each of its sockets that the plan names, and of each bus; none where this view has
    no such page. A unit goes before a bus of the same name: it is what people look for.
    """
    out = {bus.name: book.bus(bus).href for bus in book.plan.buses.values()}
    for unit in book.plan.units:
        out[unit] = book.href("unit", unit)
        out |= {socket.id: book.socket(socket).href for socket in book.sockets_of(unit)}
    return {name: href for name, href in out.items() if href}


def sources(book: Book) -> Mapping[str, str]:
    """The address of each channel by its name: of several desks that hear it, the first."""
    out: dict[str, str] = {}
    for channel in book.plan.channels:
        out.setdefault(channel.name, book.href("channel", f"{channel.desk} {channel.number}"))
    return {name: href for name, href in out.items() if name and href}


def carried(text: str, places: Mapping[str, str], sources: Mapping[str, str]) -> Markup:
    """What a socket or cable carries, in which each channel leads to its line of the input list, and each bus to its
    own: `Fiddle, Piano left and 3 more`.
    """
    from markupsafe import Markup

    out = []
    for part in text.split(", "):
        words = part.split(" ")
        name = next((n for k in range(len(words), 0, -1) if (n := " ".join(words[:k])) in sources), "")
        lead = Markup('<a href="{}">{}</a>').format(sources[name], name) if name else Markup("")
        out.append(lead + linked(part[len(name) :], places))
    return Markup(", ").join(out)


def linked(text: str, places: Mapping[str, str]) -> Markup:
    """A text, escaped, in which the names that have a place lead to it; what stands between backticks is a name too."""
    from markupsafe import Markup

    parts = text.split("`")
    if len(parts) % 2 == 0:
        return _linked(text, places)
    return Markup("").join(
        Markup("<code>{}</code>").format(_linked(part, places)) if i % 2 else _linked(part, places)
        for i, part in enumerate(parts)
    )


def _linked(text: str, places: Mapping[str, str]) -> Markup:
    from markupsafe import Markup, escape

    out, at = Markup(""), 0
    for match in TOKEN.finditer(text):
        words = match[0].split(" ")
        # `amp/out A clips` names `amp/out A`: a port has as many words as the plan knows
        name = next((n for k in range(len(words), 0, -1) if (n := " ".join(words[:k])) in places), "")
        if name:
            out += escape(text[at : match.start()]) + Markup('<a href="{}">{}</a>').format(places[name], name)
            at = match.start() + len(name)
    return out + escape(text[at:])
