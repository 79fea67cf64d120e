"""Cables to pull: each run with the pieces that serve it, how many of each length, what stays in the store."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING

from rigbook.compute.weights import pulled
from rigbook.handbook.page import Link
from rigbook.records import frozen
from rigbook.units.quantity import Amount, format_si, number
from rigbook.walk.step import once

if TYPE_CHECKING:
    from rigbook.compute.stock import Given, Need, Use
    from rigbook.findings.place import Span
    from rigbook.handbook.book import Book
    from rigbook.plan.model import Plan


@frozen
class Length:
    """So many pieces of one length."""

    text: str
    number: int
    tick: str
    back: str
    """For the tick that says that they are back in the store."""


@frozen
class Run:
    """A run of cable and what it is served by."""

    code: Link
    what: tuple[Link, ...]
    length: str
    pieces: str
    """`5 m + 10 m`; what is to be taken where that is not known."""
    over: str
    """Cable too many."""
    lacking: bool


@frozen
class CableUse:
    """All cables of a kind."""

    anchor: str
    title: str
    number: int
    judged: bool
    """True where the stock names the kind."""
    lengths: tuple[Length, ...]
    runs: tuple[Run, ...]
    left: str
    """What stays in the store: `2 × 5 m, 1 × 20 m`."""
    joints: int
    proven: bool
    weight: str
    """Of all pieces whose length is known, without plugs; empty where the kind does not say what a metre weighs."""


def cable_use(book: Book, each: Use) -> CableUse:
    """All cables of a kind, runs from the longest down."""
    runs = [_run(book, each, g.need, g) for g in each.given]
    runs += [_run(book, each, n, None) for n in (each.lacking if each.owned else each.needs)]
    heavy = pulled(book.plan, each).kg
    order = {id(n): at for at, n in enumerate(each.needs)}
    needs = [*(g.need for g in each.given), *(each.lacking if each.owned else each.needs)]
    longest = sorted(zip(needs, runs, strict=True), key=lambda row: (-(row[0].length_m or 0.0), order[id(row[0])]))
    return CableUse(
        anchor=f"kind-{each.kind}",
        title=book.kind_title(each.kind),
        number=len(each.needs),
        judged=each.owned is not None,
        lengths=tuple(_lengths(book, each)),
        runs=tuple(run for _, run in longest),
        left=_left(book, each),
        joints=sum(max(len(g.pieces) - 1, 0) for g in each.given),
        proven=each.proven,
        weight=Amount(number(round(heavy, 1)), "kg") if heavy else "",
    )


def _run(book: Book, each: Use, need: Need, given: Given | None) -> Run:
    name = named(book, need)
    lines = book.sheaths.get(need.what, ())
    ends = (book.socket(lines[0].start), book.socket(lines[0].end)) if lines else (name,)
    length = metres_of(book, need.length_m)
    pieces = " + ".join(metres_of(book, p) for p in sorted(given.pieces, reverse=True)) if given else ""
    if given and not given.pieces:
        pieces = book.say("one without a length")
    elif given is None and each.owned:
        pieces = book.say("nothing left")
    over = sum(given.pieces) - need.length_m if given and given.pieces and need.length_m is not None else 0.0
    return Run(
        code=name if lines else Link("", ""),
        what=ends,
        length=book.say("about %(length)s", length=length) if need.reckoned else length,
        pieces=pieces,
        over=metres_of(book, over) if over > 0.0005 else "",
        lacking=given is None and each.owned is not None,
    )


def _lengths(book: Book, each: Use) -> Iterator[Length]:
    """Pieces to take out of the store, longest first; without a stock, the lengths that the runs want."""
    if each.owned:
        found = [p for g in each.given for p in (g.pieces or (0.0,))]
    else:
        found = [n.length_m or 0.0 for n in each.needs]
    for metres in sorted(set(found), reverse=True):
        text = metres_of(book, metres) if metres else book.say("no length given")
        key = f"{each.kind} {metres:g}"
        yield Length(text, found.count(metres), f"pull {key}", f"back {key}")


def _left(book: Book, each: Use) -> str:
    words = [f"{each.left.count(p)} × {metres_of(book, p)}" for p in sorted(set(each.left), reverse=True)]
    if each.left_loose:
        words.append(book.say("%(number)s without a length", number=each.left_loose))
    return ", ".join(words)


def named(book: Book, need: Need) -> Link:
    """What a piece is for, with its place."""
    plan = book.plan
    if need.what in plan.units:
        unit = plan.units[need.what]
        return book.link("unit", unit.name, f"{unit.name} ({book.say('spare')})" if unit.spare else "")
    if need.what in plan.racks:
        return book.link("rack", need.what)
    if need.what in book.codes:
        return book.link("cable", need.what, book.codes[need.what])
    spans, names = once(book.rig, "channels by place and name", lambda: _channels(plan))
    first = min(spans.get(need.span, len(plan.channels)), names.get(need.what, len(plan.channels)))
    if first == len(plan.channels):
        return Link(need.what, "")
    channel = plan.channels[first]
    return book.channel(channel, f"{book.desk_name(channel.desk, str(channel.number))} {channel.name}")


def _channels(plan: Plan) -> tuple[Mapping[Span, int], Mapping[str, int]]:
    """The first channel of each line and of each name, by its place in the plan."""
    numbered = tuple(enumerate(plan.channels))[::-1]
    return {c.span: n for n, c in numbered}, {c.name: n for n, c in numbered}


def metres_of(book: Book, metres: float | None) -> str:
    """A length as printed; empty where there is none."""
    return "" if metres is None else book.tongue.amount(format_si(metres, "length", page=True))
