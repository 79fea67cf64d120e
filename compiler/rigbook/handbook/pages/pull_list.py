"""Pull list: what comes out of the store, by kind and count, against what is owned; each cable run with its piece."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from rigbook.compute.stock import OWN, Use, uses
from rigbook.handbook.page import Link, Page
from rigbook.text.phrase import phrase
from rigbook.units.quantity import Amount, Quantity, format_si, number

if TYPE_CHECKING:
    from rigbook.compute.stock import Given, Need
    from rigbook.handbook.book import Book

GROUPS: Final = (
    ("units", ()),
    ("racks", ("rack", "case")),
    ("sources", ("microphone", "di", "radio", "line source")),
    ("stands", ("stand",)),
    ("adaptors", ("adaptor",)),
)
"""Sections of the page and the families in them; whatever has no section is a unit. Cables have one of their own."""


@dataclass(frozen=True)
class Row:
    """A kind to pull."""

    title: str
    number: int
    spares: int
    """How many of them are there only in case."""
    owned: str
    """How many are owned; empty where the stock does not say."""
    lacking: int
    names: tuple[Link, ...]
    weight: str
    """Of all of them together; empty where the kind states none."""
    tick: str


@dataclass(frozen=True)
class Section:
    """A section of kinds."""

    key: str
    title: str
    rows: tuple[Row, ...]


@dataclass(frozen=True)
class Length:
    """So many pieces of one length."""

    text: str
    number: int
    tick: str


@dataclass(frozen=True)
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


@dataclass(frozen=True)
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


@dataclass(frozen=True)
class Spare:
    """A kind of which more is there than the rig uses."""

    title: str
    names: tuple[Link, ...]
    """Units that the plan calls spare; they are pulled with the rest."""
    store: int
    """Pieces besides them that stay in the store, and may come along."""
    tick: str


@dataclass(frozen=True)
class Short:
    """Something to hire."""

    number: int
    title: str
    what: str
    """`20 m for box/out 1 → top/in`."""


@dataclass(frozen=True)
class PullList:
    """Data of the page."""

    short: tuple[Short, ...]
    judged: bool
    """True where the plan says what is owned."""
    sections: tuple[Section, ...]
    cables: tuple[CableUse, ...]
    spares: tuple[Spare, ...]
    brought: tuple[tuple[str, Link, str], ...]
    """What others bring: owner, unit, kind."""
    weight: str
    unknown: int
    """Pieces whose weight is not known."""
    reckoned: bool
    """True where the length of a run is reckoned from places."""


def page(book: Book) -> Page | None:
    """The pull list; none where the plan takes nothing."""
    every = uses(book.plan)
    cables = tuple(u for u in every if _family(book, u.kind) == "cable")
    others = [u for u in every if _family(book, u.kind) != "cable"]
    brought = tuple(_brought(book))
    if not every and not brought:
        return None
    weighed = [(w, len(u.needs)) for u in others if (w := _weight(book, u.kind)) is not None]
    data = PullList(
        short=tuple(s for u in every for s in _short(book, u)),
        judged=bool(book.plan.sections.get("stock")),
        sections=tuple(_sections(book, others)),
        cables=tuple(_cables(book, u) for u in cables),
        spares=tuple(_spares(book, others)),
        brought=brought,
        weight=Amount(number(sum(w * n for w, n in weighed)), "kg") if weighed else "",
        unknown=sum(len(u.needs) for u in others) - sum(n for _, n in weighed),
        reckoned=any(n.reckoned for u in cables for n in u.needs),
    )
    return Page("pull-list", phrase("Pull list"), "pull-list.html", data, phrase("crew"))


def _family(book: Book, kind: str) -> str:
    found = book.plan.kinds.get(kind)
    return found.family if found else ""


def _weight(book: Book, kind: str) -> float | None:
    found = book.plan.kinds.get(kind)
    weight = found.get("weight") if found else None
    return weight.value if isinstance(weight, Quantity) else None


def _sections(book: Book, others: Iterable[Use]) -> Iterator[Section]:
    """The sections that hold something, kinds in plan order."""
    titles = {
        "units": book.say("Units"),
        "racks": book.say("Racks and cases"),
        "sources": book.say("Microphones, DIs and radio"),
        "stands": book.say("Stands"),
        "adaptors": book.say("Adaptors and couplers"),
    }
    placed = {family: key for key, families in GROUPS for family in families}
    rows: dict[str, list[Row]] = {key: [] for key, _ in GROUPS}
    for each in others:
        rows[placed.get(_family(book, each.kind), "units")].append(_row(book, each))
    for key, _ in GROUPS:
        if rows[key]:
            yield Section(key, titles[key], tuple(rows[key]))


def _row(book: Book, each: Use) -> Row:
    units = book.plan.units
    weight = _weight(book, each.kind)
    names = dict.fromkeys(_named(book, n) for n in each.needs)
    return Row(
        title=book.kind_title(each.kind),
        number=len(each.needs),
        spares=sum(n.what in units and units[n.what].spare for n in each.needs),
        owned=str(each.owned.total) if each.owned else "",
        lacking=len(each.lacking),
        names=tuple(names),
        weight=Amount(number(weight * len(each.needs)), "kg") if weight is not None else "",
        tick=f"pull {each.kind}",
    )


def _spares(book: Book, others: Iterable[Use]) -> Iterator[Spare]:
    """Spare units, and what of a kind stays in the store. Cables say so themselves."""
    for each in others:
        units = (book.plan.units.get(n.what) for n in each.needs)
        names = tuple(book.link("unit", u.name) for u in units if u is not None and u.spare)
        store = len(each.left) + each.left_loose
        if names or store:
            yield Spare(book.kind_title(each.kind), names, store, f"spare {each.kind}")


def _named(book: Book, need: Need) -> Link:
    """What a piece is for, with its place."""
    plan = book.plan
    if need.what in plan.units:
        unit = plan.units[need.what]
        return book.link("unit", unit.name, f"{unit.name} ({book.say('spare')})" if unit.spare else "")
    if need.what in plan.racks:
        return book.link("rack", need.what)
    if need.what in book.codes:
        return book.link("cable", need.what, book.codes[need.what])
    channel = next((c for c in plan.channels if c.span == need.span or c.name == need.what), None)
    if channel is None:
        return Link(need.what, "")
    return book.channel(channel, f"{book.desk_name(channel.desk, str(channel.number))} {channel.name}")


def _cables(book: Book, each: Use) -> CableUse:
    runs = [_run(book, each, g.need, g) for g in each.given]
    runs += [_run(book, each, n, None) for n in (each.lacking if each.owned else each.needs)]
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
    )


def _run(book: Book, each: Use, need: Need, given: Given | None) -> Run:
    name = _named(book, need)
    lines = book.sheaths.get(need.what, ())
    ends = (book.socket(lines[0].start), book.socket(lines[0].end)) if lines else (name,)
    length = _metres(book, need.length_m)
    pieces = " + ".join(_metres(book, p) for p in sorted(given.pieces, reverse=True)) if given else ""
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
        over=_metres(book, over) if over > 0.0005 else "",
        lacking=given is None and each.owned is not None,
    )


def _lengths(book: Book, each: Use) -> Iterator[Length]:
    """Pieces to take out of the store, longest first; without a stock, the lengths that the runs want."""
    if each.owned:
        found = [p for g in each.given for p in (g.pieces or (0.0,))]
    else:
        found = [n.length_m or 0.0 for n in each.needs]
    for metres in sorted(set(found), reverse=True):
        text = _metres(book, metres) if metres else book.say("no length given")
        yield Length(text, found.count(metres), f"pull {each.kind} {metres:g}")


def _left(book: Book, each: Use) -> str:
    words = [f"{each.left.count(p)} × {_metres(book, p)}" for p in sorted(set(each.left), reverse=True)]
    if each.left_loose:
        words.append(book.say("%(number)s without a length", number=each.left_loose))
    return ", ".join(words)


def _short(book: Book, each: Use) -> Iterator[Short]:
    """What lacks: cables by length, other kinds by number."""
    by_length: dict[float | None, list[Need]] = {}
    for need in each.lacking:
        by_length.setdefault(need.length_m, []).append(need)
    for metres, lacking in by_length.items():
        names = ", ".join(dict.fromkeys(_named(book, n).text for n in lacking))
        length = "" if metres is None else f"{_metres(book, metres)}: "
        yield Short(len(lacking), book.kind_title(each.kind), length + names)


def _metres(book: Book, metres: float | None) -> str:
    return "" if metres is None else book.tongue.amount(format_si(metres, "length", page=True))


def _brought(book: Book) -> Iterator[tuple[str, Link, str]]:
    """Units that belong to somebody else."""
    for unit in book.plan.units.values():
        owner = str(unit.record.get("owner") or OWN)
        if owner != OWN:
            yield owner, book.link("unit", unit.name), unit.kind.title if unit.kind else ""
