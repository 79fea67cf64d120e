"""Circuits of the mains with what hangs on them, as facts for pages."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from rigbook.compute.figure import Figure, Missing, Result, value_of
from rigbook.handbook.anchors import anchor
from rigbook.handbook.drawings import bars
from rigbook.handbook.page import Link
from rigbook.records import frozen
from rigbook.units.quantity import Amount

if TYPE_CHECKING:
    from markupsafe import Markup

    from rigbook.compute.draws import Draw
    from rigbook.compute.mains import Circuit, Mains
    from rigbook.handbook.book import Book


class UnitRow(NamedTuple):
    """What one unit draws."""

    unit: Link
    kind: str
    idle: str
    eighth: str
    full: str
    current: str
    heat: str


@frozen
class CircuitRow:
    """A circuit with all that is on it."""

    name: str
    anchor: str
    supply: str
    phase: str
    rating: str
    outlets: str
    shared: str
    idle: str
    eighth: str
    full: str
    allowed: str
    left: str
    """`6.5 A left`, `2.1 A over`."""
    over: bool
    bar: Markup
    other: str
    """What else is on it, in watts, as typed."""
    units: tuple[UnitRow, ...]
    unknown: tuple[str, ...]
    """Units whose draw is not known: they are missing from the sums."""

    @property
    def has_units(self) -> bool:
        """True where there is something to say about what is on it."""
        return bool(self.units or self.other or self.shared or self.unknown)


def _scale(mains: Mains) -> float:
    """A that a whole bar of the circuits stands for: the largest breaker, and half as much for what goes beyond."""
    return 1.5 * max((max(c.rating or 0.0, c.eighth.value) for c in mains.circuits), default=0.0)


def amps(value: float | None) -> str:
    """A rating as typed: `16 A`."""
    return Amount(f"{value:g}", "A") if value is not None else ""


def circuit(book: Book, mains: Mains, c: Circuit) -> CircuitRow:
    """A circuit with its load and its units."""
    from markupsafe import Markup

    left, allowed = value_of(c.left), value_of(c.allowed)
    over = left is not None and left < 0
    record = c.record
    return CircuitRow(
        name=c.name,
        anchor=anchor("circuit", c.name),
        supply=c.supply,
        phase=c.phase,
        rating=amps(c.rating),
        outlets=str(record.get("outlets") or ""),
        shared=str(record.get("shared-with") or ""),
        idle=c.idle.text,
        eighth=c.eighth.text,
        full=c.full.text,
        allowed=shown(c.allowed),
        left=_left(book, c.left),
        over=over,
        bar=Markup(bars.load(c.eighth.value, c.full.value, allowed, c.rating, _scale(mains), _told(book, c))),
        other=record.get("other-load").page() if record.get("other-load") else "",
        units=tuple(unit_row(book, d) for d in mains.draws if d.circuit == c.name),
        unknown=c.unknown,
    )


def shown(result: Result) -> str:
    """A figure as printed; nothing where it is not known."""
    return result.text if isinstance(result, Figure) else ""


def _left(book: Book, left: Result) -> str:
    if isinstance(left, Missing):
        return ""
    if left.value < 0:
        beyond = Figure(-left.value, left.unit, left.formula, left.inputs)
        return book.say("%(amount)s over", amount=beyond.text)
    return book.say("%(amount)s left", amount=left.text)


def _told(book: Book, c: Circuit) -> str:
    """A bar in words."""
    if isinstance(c.allowed, Missing):
        return book.say("%(now)s with loud music, %(full)s at full power", now=c.eighth.text, full=c.full.text)
    return book.say(
        "%(now)s with loud music, of %(allowed)s; %(full)s at full power; breaker %(rating)s",
        now=c.eighth.text, allowed=c.allowed.text, full=c.full.text, rating=amps(c.rating),
    )  # fmt: skip


def unit_row(book: Book, draw: Draw) -> UnitRow:
    """A unit with what it draws."""
    unit = book.plan.units[draw.unit]
    link = book.link("unit", unit.name, unit.title)
    kind = unit.kind.title if unit.kind else ""
    return UnitRow(
        link, kind, draw.idle.text, draw.eighth.text, draw.full.text, draw.current.text, draw.heat.text
    )  # fmt: skip
