"""Pull list: what comes out of the store, by kind and count, against what is owned; each cable run with its piece."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING, Final

from rigbook.compute.stock import OWN, Use, owner_of, uses
from rigbook.compute.weights import pulled
from rigbook.handbook.cable_pull import CableUse, cable_use, metres_of, named
from rigbook.handbook.page import Link, Page
from rigbook.records import frozen
from rigbook.text.phrase import phrase
from rigbook.units.quantity import Amount, number

if TYPE_CHECKING:
    from rigbook.compute.stock import Need
    from rigbook.handbook.book import Book

GROUPS: Final = (
    ("units", ()),
    ("racks", ("rack", "case")),
    ("sources", ("microphone", "di", "radio", "line source")),
    ("stands", ("stand",)),
    ("adaptors", ("adaptor",)),
)
"""Sections of the page and the families in them; whatever has no section is a unit. Cables have one of their own."""


@frozen
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
    back: str
    """For the tick that says that it is back in the store."""


@frozen
class Section:
    """A section of kinds."""

    key: str
    title: str
    rows: tuple[Row, ...]


@frozen
class Spare:
    """A kind of which more is there than the rig uses."""

    title: str
    names: tuple[Link, ...]
    """Units that the plan calls spare; they are pulled with the rest."""
    store: int
    """Pieces besides them that stay in the store, and may come along."""
    tick: str


@frozen
class Short:
    """Something to hire."""

    number: int
    title: str
    what: str
    """`20 m for box/out 1 → top/in`."""


@frozen
class PullList:
    """Data of the page."""

    short: tuple[Short, ...]
    judged: bool
    """True where the plan says what is owned."""
    sections: tuple[Section, ...]
    cables: tuple[CableUse, ...]
    spares: tuple[Spare, ...]
    brought: tuple[tuple[str, Link, str], ...]
    """What others bring: owner and the day it goes back, unit, kind."""
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
    weighed = [pulled(book.plan, u) for u in every]
    heavy = sum(w.kg for w in weighed)
    data = PullList(
        short=tuple(s for u in every for s in _short(book, u)),
        judged=bool(book.plan.sections.get("stock")),
        sections=tuple(_sections(book, others)),
        cables=tuple(cable_use(book, u) for u in cables),
        spares=tuple(_spares(book, others)),
        brought=brought,
        weight=Amount(number(round(heavy, 1)), "kg") if heavy else "",
        unknown=sum(w.unknown for w in weighed),
        reckoned=any(n.reckoned for u in cables for n in u.needs),
    )
    return Page("pull-list", phrase("Pull list"), "pull-list.html", data, phrase("crew"))


def _family(book: Book, kind: str) -> str:
    found = book.plan.kinds.get(kind)
    return found.family if found else ""


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
    weight = pulled(book.plan, each)
    names = dict.fromkeys(named(book, n) for n in each.needs)
    return Row(
        title=book.kind_title(each.kind),
        number=len(each.needs),
        spares=sum(n.what in units and units[n.what].spare for n in each.needs),
        owned=str(each.owned.total) if each.owned else "",
        lacking=len(each.lacking),
        names=tuple(names),
        weight=Amount(number(weight.kg), "kg") if weight.kg else "",
        tick=f"pull {each.kind}",
        back=f"back {each.kind}",
    )


def _spares(book: Book, others: Iterable[Use]) -> Iterator[Spare]:
    """Spare units, and what of a kind stays in the store. Cables say so themselves."""
    for each in others:
        units = (book.plan.units.get(n.what) for n in each.needs)
        names = tuple(book.link("unit", u.name) for u in units if u is not None and u.spare)
        store = len(each.left) + each.left_loose
        if names or store:
            yield Spare(book.kind_title(each.kind), names, store, f"spare {each.kind}")


def _short(book: Book, each: Use) -> Iterator[Short]:
    """What lacks: cables by length, other kinds by number."""
    by_length: dict[float | None, list[Need]] = {}
    for need in each.lacking:
        by_length.setdefault(need.length_m, []).append(need)
    for metres, lacking in by_length.items():
        names = ", ".join(dict.fromkeys(named(book, n).text for n in lacking))
        length = "" if metres is None else metres_of(book, metres) + book.tongue.sign(": ")
        yield Short(len(lacking), book.kind_title(each.kind), length + names)


def _brought(book: Book) -> Iterator[tuple[str, Link, str]]:
    """Units that belong to somebody else."""
    for unit in book.plan.units.values():
        owner = owner_of(unit.record)
        back = unit.record.get("returns")
        if owner != OWN:
            if back is not None:
                owner = book.say("%(owner)s, goes back %(day)s", owner=owner, day=book.tongue.day(back))
            yield owner, book.link("unit", unit.name), unit.kind.title if unit.kind else ""
