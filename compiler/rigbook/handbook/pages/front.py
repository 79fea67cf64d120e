"""Front page: what, where and when; the whole system in one drawing; how the plan stands; what to put back."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final, NamedTuple

from rigbook.compute.results import results
from rigbook.handbook.drawings import flow_strips, signal_flow
from rigbook.handbook.drawings.blocks import connections, say_in, sheet_of
from rigbook.handbook.drawings.layout import lay_out
from rigbook.handbook.key_figures import KeyFigure, counted_figures, estimates
from rigbook.handbook.last_walk import LastWalk, shown
from rigbook.handbook.page import Link, Page
from rigbook.handbook.pages.changes import Since, since
from rigbook.handbook.unsaid import unsaid
from rigbook.handbook.views import CREW, PUBLIC
from rigbook.handbook.words import change_words
from rigbook.records import frozen
from rigbook.text.phrase import phrase

if TYPE_CHECKING:
    from markupsafe import Markup

    from rigbook.handbook.book import Book

CAUTIONS: Final = (
    (
        phrase("Mains power"),
        phrase("Distribution, generators and whatever has no plug belong to licensed people; local codes decide."),
    ),
    (
        phrase("Loads overhead"),
        phrase("Hanging and lifting is work for competent people with rated parts, after the makers’ instructions."),
    ),
    (phrase("Hearing"), phrase("Begin quiet, warn before noise, and keep within the limits of the venue and the law.")),
    (phrase("Trips"), phrase("Cover or fly cables that cross a way; keep exits clear.")),
    (phrase("Radio"), phrase("Transmit only where a licence or the law of the place allows it.")),
)


READABLE: Final = 1400.0
"""Width in units of the drawing up to which its type keeps 8.3 px and more on a page of 930 px; wider ones scroll."""
UPRIGHT: Final = 900.0
"""Width up to which a drawing keeps 6.5 pt and more on an upright sheet of A4; wider ones get a sheet on its side."""


class Joined(NamedTuple):
    """A line of the drawing in words."""

    start: Link
    end: Link
    sort: str
    """`line`, `speaker` or `network`."""
    number: int


@frozen
class Flow:
    """The signal-flow drawing, what its script needs, and the same in words."""

    drawing: Markup
    data: Markup
    """JSON, for use between single quotes."""
    fits: bool
    """True where the drawing can be read when it is drawn to the width of a page."""
    across: bool
    """True where it is printed on a sheet of its own, on its side."""
    strips: tuple[Markup, ...]
    """The same in parts for sheets of paper, where one sheet would make it too small to read."""
    joined: tuple[Joined, ...]


class Changed(NamedTuple):
    """One thing that the show changed from the house."""

    what: str
    before: str
    after: str


@frozen
class Reason:
    """Why things were changed, and which."""

    reason: str
    things: tuple[Changed, ...]


@frozen
class Front:
    """Data of the page."""

    doors: str
    order: tuple[tuple[str, str], ...]
    """Running order: time and what happens."""
    flow: Flow | None
    """None where the rig is no concern of the reader, or there is none."""
    counts: tuple[KeyFigure, ...]
    estimates: tuple[KeyFigure, ...]
    """With loud music."""
    data_file: str
    """Address of the file with all results; empty where there is none."""
    unsaid: int
    """Things the plan does not state, so that figures are not there; the Speakers page names them."""
    changes: tuple[Reason, ...]
    since: Since | None
    """Against an earlier plan, where the Changes page says it."""
    walked: LastWalk | None
    cautions: tuple[tuple[str, str], ...]


def page(book: Book) -> Page | None:
    """The front page."""
    inside = book.view != PUBLIC
    order = book.plan.sections.get("running-order") or ()
    data = Front(
        doors=str(book.plan.get("doors") or ""),
        order=tuple((e.name, str(e.value)) for e in order) if inside else (),
        flow=flow(book) if inside else None,
        counts=tuple(counted_figures(book)) if inside else (),
        estimates=tuple(estimates(book)) if inside else (),
        data_file=book.data_file,
        unsaid=not_stated(book) if inside else 0,
        changes=changes(book) if book.view == CREW else (),
        since=since(book),
        walked=shown(book) if inside else None,
        cautions=CAUTIONS if inside else (),
    )
    return Page("index", phrase("Front page"), "front.html", data, phrase("everyone"))


def not_stated(book: Book) -> int:
    """How many things the Speakers page says it lacks; 0 where there is no such page."""
    got = results(book.rig)
    return sum(1 for _ in unsaid(book, got)) if got.boxes.all and "speakers" in book.slugs else 0


def flow(book: Book) -> Flow | None:
    """The drawing of the whole system; None where the plan has nothing to draw."""
    from markupsafe import Markup

    sheet = say_in(sheet_of(book.rig), book.tongue)
    if not sheet.blocks:
        return None
    layout = lay_out(sheet)
    title = book.say("Signal flow of %(title)s", title=book.plan.title)
    data = signal_flow.data(sheet, layout).replace("&", "&amp;").replace("'", "&#39;").replace("<", "&lt;")
    strips = tuple(map(Markup, flow_strips.strips(sheet, layout, title)))
    return Flow(
        drawing=Markup(signal_flow.drawn(sheet, layout, title, book.tongue)),
        data=Markup(data),
        fits=layout.width <= READABLE,
        across=layout.width > UPRIGHT and not strips,
        strips=strips,
        joined=tuple(
            Joined(Link(a.title, a.link), Link(b.title, b.link), sort, count)
            for a, b, sort, count in connections(sheet)
        ),
    )


def changes(book: Book) -> tuple[Reason, ...]:
    """What the show changed, by reason, in plan order. For the crew: a change may touch what others may not read."""
    out: dict[str, list[Changed]] = {}
    for change in book.plan.changes:
        before, after = change_words(change.before), change_words(change.after)
        out.setdefault(change.reason, []).append(Changed(change.what, before, after))
    return tuple(Reason(reason, tuple(things)) for reason, things in out.items())
