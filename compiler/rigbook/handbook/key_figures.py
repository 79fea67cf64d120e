"""The few figures that a rig is known by: how much there is of what, what it draws, how loud it gets."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, NamedTuple

from rigbook.compute.counts import counts
from rigbook.compute.results import results
from rigbook.text.phrase import counted, joined, phrase
from rigbook.units.quantity import Amount
from rigbook.walk.steps import steps

if TYPE_CHECKING:
    from rigbook.handbook.book import Book


class KeyFigure(NamedTuple):
    """A figure with what it is of, and the place where it is broken down."""

    number: str
    words: str
    href: str


def counted_figures(book: Book) -> Iterator[KeyFigure]:
    """Counts, those that are not nought."""
    got = counts(book.rig)
    rest = got.boxes - got.subs - got.monitors
    walk = len(steps(book.rig))
    rows = (
        (counted(got.channels, "input channel", "input channels"), "patch.html#inputs"),
        (counted(got.monitor_mixes, "monitor mix", "monitor mixes"), "routing.html#buses"),
        (counted(rest, "main, fill or delay box", "main, fill and delay boxes"), "routing.html#speakers"),
        (counted(got.subs, "sub", "subs"), "routing.html#speakers"),
        (counted(got.monitors, "stage monitor", "stage monitors"), "routing.html#speakers"),
        (counted(got.amplifiers, "amplifier", "amplifiers"), "patch.html#devices"),
        (counted(got.cables, "cable", "cables"), "patch.html#cables"),
        (counted(got.radio_channels, "radio channel", "radio channels"), "radio.html"),
        (counted(walk, "step of the walk test", "steps of the walk test"), "walk-test.html"),
    )
    for words, href in rows:
        if words.number:
            yield KeyFigure(str(words.number), words, _there(book, href))


def estimates(book: Book) -> Iterator[KeyFigure]:
    """What it draws and how loud it gets with loud music."""
    yield from levels(book)
    yield from mains(book)


def mains(book: Book) -> Iterator[KeyFigure]:
    """Current of each phase that is used, with loud music, by supply."""
    supplies = results(book.rig).mains.supplies
    used = [(s.name, phases) for s in supplies if (phases := [p for p in s.by_phase if p[1].value])]
    for name, phases in used:
        amps = joined((*(Amount(load.amount) for _, load in phases[:-1]), phases[-1][1].text), " / ")
        words = phrase("mains, phase %(phases)s", phases=", ".join(phase for phase, _ in phases))
        if len(used) > 1:
            words = phrase("mains, phase %(phases)s of %(supply)s", supply=name, **words.values)
        yield KeyFigure(amps, words, _there(book, "power.html"))


def levels(book: Book) -> Iterator[KeyFigure]:
    """The loudest that music gets at the mix position and in the front row."""
    got = results(book.rig).levels
    if not got.known:
        return
    (_, mix), *_ = got.spots
    front = max(got.by_area, key=lambda a: a.first_row.value)
    href = _there(book, "speakers.html")
    yield KeyFigure(mix.text, phrase("at the mix position, all boxes together"), href)
    yield KeyFigure(front.first_row.text, phrase("in the first row of %(area)s", area=front.area.name), href)


def _there(book: Book, href: str) -> str:
    """An address, if this view has the page."""
    return href if href.partition(".html")[0] in book.slugs else ""
