"""Speakers: where they are and point, what drives them, what arrives where, and when."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, NamedTuple

from rigbook.compute.exposure import AUDIENCE, noise_limit
from rigbook.compute.results import Results, results
from rigbook.handbook import level_tables, speaker_tables
from rigbook.handbook.anchors import anchor
from rigbook.handbook.page import Link, Page
from rigbook.handbook.scene import scene
from rigbook.handbook.tables import Table
from rigbook.handbook.unsaid import unsaid
from rigbook.handbook.words import both, chosen
from rigbook.records import frozen
from rigbook.text.phrase import joined
from rigbook.units.quantity import Amount

if TYPE_CHECKING:
    from markupsafe import Markup

    from rigbook.handbook.book import Book

ABOVE_PEOPLE = ("hung", "truss", "wall")


class Measure(NamedTuple):
    """A figure and what it rests on."""

    name: str
    text: str
    basis: str


class Hung(NamedTuple):
    """A box that hangs, and what holds it twice."""

    box: Link
    mount: str
    weight: str
    safety: str


class Choice(NamedTuple):
    """A band that the maps can show."""

    hz: str
    name: str


class Plot(NamedTuple):
    """A crossover drawn and in figures."""

    name: str
    drawing: Markup
    curve: Table


@frozen
class AreaMap:
    """An audience area: its map, its figures."""

    area: Link
    drawing: Markup
    printed: Table
    bands: Table


@frozen
class Speakers:
    """Data of the page."""

    model: tuple[str, ...]
    """What the model of direct sound leaves out; that it is an estimate, the page says itself."""
    lacking: tuple[str, ...]
    """What the plan would have to state for the figures that are not here."""
    plan: Markup
    close_up: Markup
    """The stage larger; empty where the plan view is large enough."""
    section: Markup
    index: tuple[Link, ...]
    """Each box with its row on this page, in the order of the rows."""
    boxes: Table
    hung: tuple[Hung, ...]
    levels: tuple[Measure, ...]
    summary: Table | None
    choices: tuple[Choice, ...]
    silent: str
    """Bands in which nothing is heard."""
    maps: tuple[AreaMap, ...]
    loads: Table
    limiters: Table
    structure: Table
    delays: Table
    subs: Table
    crossovers: Table
    plots: tuple[Plot, ...]
    room: tuple[Measure, ...]
    distances: Table
    feedback: Table
    exposure: Table
    exposure_sources: tuple[str, ...]
    limit: str
    """The venue's own limit; empty where it gives none."""


def page(book: Book) -> Page | None:
    """The speakers page; none where the plan has no speaker of a known kind."""
    got = results(book.rig)
    if not got.boxes.all:
        return None
    from markupsafe import Markup

    from rigbook.handbook.drawings import plan_view, section_view

    drawn, say, name, tongue = scene(book), book.say, book.plan.title, book.tongue
    choices, silent, maps = _maps(book, got)
    limit = noise_limit(got.places)
    data = Speakers(
        model=tuple(words for words in got.levels.model if words != "planning estimate"),
        lacking=tuple(unsaid(book, got)),
        plan=Markup(plan_view.draw(drawn, tongue, say("Plan view of %(show)s", show=name))),
        close_up=Markup(plan_view.draw_close_up(drawn, tongue, say("Stage of %(show)s, closer", show=name))),
        section=Markup(section_view.draw(drawn, tongue, say("Section of %(show)s", show=name))),
        index=tuple(Link(b.name, f"#{anchor('place', b.name)}") for b in got.boxes.all),
        boxes=speaker_tables.boxes(book, got),
        hung=tuple(hung(book, got)),
        levels=tuple(level_measures(book, got)),
        summary=level_tables.summary(book, got.levels.by_area) if got.levels.by_area else None,
        choices=choices,
        silent=silent,
        maps=maps,
        loads=speaker_tables.loads(book, got),
        limiters=speaker_tables.limiters(book, got),
        structure=speaker_tables.structure(book, got),
        delays=speaker_tables.delays(book, got),
        subs=speaker_tables.subs(book, got),
        crossovers=level_tables.crossovers(book, got),
        plots=tuple(plots(book, got)),
        room=tuple(Measure(*m) for m in level_tables.room_measures(book, got)),
        distances=level_tables.room(book, got),
        feedback=level_tables.feedback(book, got),
        exposure=level_tables.exposure(book, got),
        exposure_sources=tuple(sources(got)),
        limit="" if limit is None else Amount(f"{limit:g}", "dB(A)"),
    )
    return Page("speakers", say("Speakers"), "speakers.html", data, say("engineer"))


def sources(got: Results) -> Iterator[str]:
    """Where the published values of exposure stand, each once."""
    if got.exposures:
        yield AUDIENCE.source
        yield from (f"{r.name}: {r.source}" for r in got.exposures[0].reached)


def hung(book: Book, got: Results) -> Iterator[Hung]:
    """Boxes above people's heads, with their weight and their second suspension as the plan has them."""
    for box in got.boxes.all:
        mount = box.unit.record.get("mount")
        if mount in ABOVE_PEOPLE:
            weight = box.kind.get("weight")
            safety = str(box.unit.record.get("safety") or "") or book.say("not said")
            yield Hung(book.link("box", box.name), chosen(mount), weight.page() if weight else
                       book.say("not known"), safety)  # fmt: skip


def level_measures(book: Book, got: Results) -> Iterator[Measure]:
    """The level that the maps are drawn for, and the most there can be."""
    if not got.levels.known:
        return
    say = book.say
    for name, figure in ((say("Level of the show at the mix position, all boxes together"), got.levels.programme),
                         (say("The most that music can have there"), got.levels.most_at_mix)):  # fmt: skip
        yield Measure(name, figure.text, level_tables.worked_from(figure))
    yield Measure(say("Judged at"), got.levels.mix[1], "")


def plots(book: Book, got: Results) -> Iterator[Plot]:
    """Every crossover drawn."""
    from markupsafe import Markup

    from rigbook.handbook.drawings import crossover_plot

    for n, pair in enumerate(got.crossovers, 1):
        drawing = Markup(crossover_plot.draw(pair, f"crossover-{n}", book.tongue))
        yield Plot(both((pair.upper.box, pair.lower.box)), drawing, level_tables.curve(book, pair, f"curve-{n}"))


def _maps(book: Book, got: Results) -> tuple[tuple[Choice, ...], str, tuple[AreaMap, ...]]:
    """The bands that maps can show, those in which nothing is heard, and a map for each area."""
    if not got.levels.known:
        return (), "", ()
    from markupsafe import Markup

    from rigbook.handbook.drawings import level_map

    maps = got.levels.maps
    steps, per_metre = level_map.steps_of(maps), level_map.scale_of(maps)
    heard = [s.hz for s in steps]
    silent = [level_tables.band_name(book, hz) for hz in level_map.PER_BAND if hz not in heard]
    by_area = {a.area.name: a for a in got.levels.by_area}
    return (
        tuple(Choice(f"{hz:g}", level_tables.band_name(book, hz)) for hz in heard),
        joined(silent),
        tuple(
            AreaMap(
                book.link("area", m.area.name),
                Markup(level_map.draw(m, steps, per_metre, book.tongue)),
                level_tables.printed(book, m.area.name, level_map.figures(m, per_metre)),
                level_tables.levels(book, by_area[m.area.name], heard),
            )
            for m in maps
        ),
    )
