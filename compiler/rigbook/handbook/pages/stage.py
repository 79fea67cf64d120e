"""Stage: the plan of the stage and of the site for the crew and a visiting band, and in words what stands where."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Final, NamedTuple

from rigbook.handbook.anchors import anchor
from rigbook.handbook.drawings import stage_plan
from rigbook.handbook.page import Link, Page
from rigbook.handbook.stage_marks import LEAD, MULTICORE, Mark, Run, Stage, span_words, stage_of
from rigbook.handbook.stage_scenes import (
    fed_by,
    key_of,
    name_of,
    on_site,
    scene,
    several_desks,
    site_window,
    sort_of,
    stage_window,
    within,
)
from rigbook.handbook.tongue import Tongue
from rigbook.plan.model import Channel, Kind
from rigbook.records import frozen
from rigbook.text.phrase import joined

if TYPE_CHECKING:
    from markupsafe import Markup

    from rigbook.handbook.book import Book, Note


class InputRow(NamedTuple):
    """A source at its place."""

    number: str
    channel: Link
    what: str
    """Microphone, DI or line source."""
    stand: str
    phantom: bool
    plugged: tuple[Link, ...]


class BoxRow(NamedTuple):
    """A speaker, a rack or another unit at its place."""

    anchor: str
    """Empty where the row above stands at the same place."""
    name: Link
    what: str
    where: str
    fed: str
    """Bus that it plays; for a rack, what is in it."""
    aim: str
    circuits: tuple[Link, ...]
    notes: tuple[Note, ...]


@frozen
class Place:
    """A place that inputs come from."""

    name: str
    anchor: str
    where: str
    """`1.8 m left, 1.4 m back`."""
    inputs: tuple[InputRow, ...]


class RunRow(NamedTuple):
    """Cable between two places."""

    start: Link
    end: Link
    sort: str
    number: int
    lengths: str
    reckoned: bool
    kinds: str


@frozen
class StagePage:
    """Data of the page."""

    plan: Markup
    site: Markup
    """The whole site; empty where nothing stands beyond the plan of the stage."""
    sorts: tuple[str, ...]
    """Sorts of runs on the drawings."""
    symbols: tuple[str, ...]
    """Sorts of symbols on the drawings."""
    places: tuple[Place, ...]
    boxes: tuple[BoxRow, ...]
    """Monitors and other speakers, racks, desks and boxes."""
    runs: tuple[RunRow, ...]
    loose: tuple[Link, ...]
    """What is in use and has no place in the plan."""
    elsewhere: tuple[str, ...]
    """Places that are not on the plan of the stage."""


RUN_ORDER: Final = (LEAD, MULTICORE, "line", "network", "speaker", "mains")


def page(book: Book) -> Page | None:
    """The stage page; none where nothing on or around the stage has a place."""
    from markupsafe import Markup

    stage = stage_of(book)
    if not any(m.channels or m.monitors or m.speakers for m in stage.marks):
        return None
    floor = stage_window(book, stage)
    near = [within(floor[0], m) for m in stage.marks]
    plan = scene(book, stage, "stage-plan", book.say("Stage plan"), floor, near)
    ordered = sorted(stage.marks, key=_reading)
    site = ""
    if not all(near):
        floor = site_window(book, stage)
        site = stage_plan.draw(
            scene(book, stage, "site-plan", book.say("The whole site"), floor, on_site(stage, near))
        )
    return Page(
        "stage",
        book.say("Stage"),
        "stage.html",
        StagePage(
            plan=Markup(stage_plan.draw(plan)),
            site=Markup(site),
            sorts=tuple(s for s in RUN_ORDER if any(r.sort == s for r in stage.runs)),
            symbols=tuple(dict.fromkeys(sort_of(m) for m in stage.marks)),
            places=tuple(_place(book, m) for m in ordered if m.channels),
            boxes=tuple(row for m in sorted(ordered, key=_kind_of_place) for row in _boxes(book, m)),
            runs=tuple(_run_row(book, stage, r) for r in sorted(stage.runs, key=_run_order)),
            loose=(
                *(book.channel(c, f"{c.number} {c.name}") for c in stage.loose_channels),
                *(book.link("unit", u.name, u.title) for u in stage.loose_units),
            ),
            elsewhere=tuple(name_of(book, m) for n, m in zip(near, stage.marks, strict=True) if not n),
        ),
        book.say("crew"),
    )


def _reading(mark: Mark) -> tuple[bool, float, float]:
    """Inputs first, from the front to the back, from the left to the right."""
    return not mark.channels, -round(mark.spot.y), mark.spot.x


def _kind_of_place(mark: Mark) -> int:
    """Monitors, other loudspeakers, racks, boxes."""
    return next((i for i, there in enumerate((mark.monitors, mark.speakers, mark.racks)) if there), 3)


def _run_order(run: Run) -> tuple[int, int, int]:
    return RUN_ORDER.index(run.sort) if run.sort in RUN_ORDER else len(RUN_ORDER), run.start, run.end


def where_words(tongue: Tongue, x: float, y: float) -> str:
    """A place in words: `1.8 m left, 1.4 m back`."""
    words = []
    across, along = (tongue.number(f"{abs(m):.1f}".removesuffix(".0")) for m in (x, y))
    if abs(x) >= 0.05:
        words.append(tongue.say("%(m)s m left", m=across) if x < 0 else tongue.say("%(m)s m right", m=across))
    if abs(y) >= 0.05:
        words.append(tongue.say("%(m)s m out", m=along) if y > 0 else tongue.say("%(m)s m back", m=along))
    return ", ".join(words) or tongue.say("middle of the front edge")


def _place(book: Book, mark: Mark) -> Place:
    return Place(
        name=name_of(book, mark),
        anchor=anchor("place", key_of(mark)),
        where=where_words(book.tongue, mark.spot.x, mark.spot.y),
        inputs=tuple(_input_row(book, c, several_desks(mark)) for c in mark.channels),
    )


def _boxes(book: Book, mark: Mark) -> Iterator[BoxRow]:
    """Everything at a place that is no input."""
    where = where_words(book.tongue, mark.spot.x, mark.spot.y)
    circuits = tuple(book.link("circuit", name) for name in mark.circuits)
    rows: list[tuple[Link, str, str, str, tuple[Note, ...]]] = []
    for unit in (*mark.monitors, *mark.speakers):
        aim = unit.aim.text if unit.aim else ""
        rows.append((book.link("box", unit.name, unit.title), _kind(unit.kind), fed_by(book, unit), aim,
                     book.notes_about(unit.name)))  # fmt: skip
    for name in mark.racks:
        rack = book.plan.racks[name]
        inside = ", ".join(dict.fromkeys(i.unit for _, i in (*rack.front, *rack.rear) if i.unit))
        title = str(rack.record.get("title") or name)
        rows.append((book.link("rack", name, title), _kind(rack.kind), inside, "", book.notes_about(name)))
    rows += [(book.link("unit", u.name, u.title), _kind(u.kind), "", "", book.notes_about(u.name)) for u in mark.units]
    for i, (thing, what, fed, aim, notes) in enumerate(rows):
        place = anchor("place", key_of(mark)) if i == 0 and not mark.channels else ""
        yield BoxRow(place, thing, what, where, fed, aim, circuits, notes)


def _kind(kind: Kind | None) -> str:
    return kind.title if kind else ""


def _input_row(book: Book, channel: Channel, several: bool) -> InputRow:
    stand = channel.record.get("stand")
    return InputRow(
        number=book.desk_name(channel.desk, str(channel.number)) if several else str(channel.number),
        channel=book.channel(channel, channel.name),
        what=channel.source_kind.title if channel.source_kind else "",
        stand=book.kind_title(stand) if stand else "",
        phantom=bool(channel.record.get("phantom")),
        plugged=tuple(book.socket(s) for s in channel.plugged) if channel.source_key else (),
    )


def _end(book: Book, mark: Mark) -> Link:
    """A place with its address on this page, where it has a row or a heading."""
    told = mark.channels or mark.monitors or mark.speakers or mark.racks or mark.units
    return Link(name_of(book, mark), f"#{anchor('place', key_of(mark))}" if told else "")


def _run_row(book: Book, stage: Stage, run: Run) -> RunRow:
    return RunRow(
        start=_end(book, stage.marks[run.start]),
        end=_end(book, stage.marks[run.end]),
        sort=run.sort,
        number=run.count,
        lengths=span_words(book.tongue, run.lengths),
        reckoned=run.reckoned,
        kinds=joined(run.kinds, ", "),
    )
