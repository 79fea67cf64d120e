"""Walk test: one step after another, what to play, where to stand, what must sound and what must not; fault finder."""

from __future__ import annotations

from pathlib import PurePosixPath
from typing import TYPE_CHECKING, NamedTuple

from rigbook.graph.words import side
from rigbook.handbook.anchors import PAGES, anchor
from rigbook.handbook.book import Book
from rigbook.handbook.last_walk import LastWalk, shown
from rigbook.handbook.page import Link, Page
from rigbook.records import frozen, replace
from rigbook.text.phrase import phrase
from rigbook.walk.finder import Trouble, titles_of, troubles
from rigbook.walk.island import data, script_data
from rigbook.walk.line_check import Line, line_check
from rigbook.walk.prints import fingerprints, rig_print
from rigbook.walk.step import Control, Expected, Step
from rigbook.walk.steps import steps
from rigbook.walk.suspects import Suspect
from rigbook.walk.table import Row, Table

if TYPE_CHECKING:
    from markupsafe import Markup

CAUTION = phrase(
    "Begin quiet: every fader at −40 dB, then up slowly. Loud noise and sudden peaks damage hearing at once "
    "and for good. "
    "Tell everyone in the room first, and keep ears away from the boxes."
)
BEFORE = (
    phrase("One person at the desk, one walking. Mute everything on the desk; amplifiers on last."),
    phrase(
        "Play each step, walk to each box, and tick what is as it must be. "
        "Then pull the fader down and take the next step."
    ),
)


class BoxRow(NamedTuple):
    """A box that must be heard."""

    box: Link
    how: str
    where: str


class PairRow(NamedTuple):
    """Two boxes that must add."""

    key: str
    a: Link
    b: Link
    what: str


class ControlRow(NamedTuple):
    """A fader, send or mute and how it is set."""

    name: Link
    setting: str


class SuspectRow(NamedTuple):
    """A thing that may be wrong and the check that confirms it."""

    words: tuple[Markup | str, ...]
    """What may be wrong; several where nothing tells them apart."""
    check: str
    label: str


class TroubleRow(NamedTuple):
    """What is heard and what may be wrong then."""

    pattern: str
    suspects: tuple[SuspectRow, ...]


class Unheard(NamedTuple):
    """Faults that no step shows for one reason."""

    reason: str
    faults: tuple[tuple[str, str], ...]
    """A sentence, and the names of which the same is true."""


@frozen
class StepPart:
    """One step of the page."""

    key: str
    ident: str
    number: int
    title: str
    signal: str
    signal_key: str
    controls: tuple[ControlRow, ...]
    rows: tuple[BoxRow, ...]
    silent: tuple[str, ...]
    pairs: tuple[PairRow, ...]
    fader: str
    """What to do with the fader and what must happen; empty where it is not tried."""
    fader_stays: bool
    troubles: tuple[TroubleRow, ...]


@frozen
class LinePart:
    """One input of the line check."""

    key: str
    ident: str
    channel: Link
    name: str
    socket: str
    source: str
    phantom: bool
    do: str
    heard: tuple[str, ...]
    pre: tuple[str, ...]
    troubles: tuple[TroubleRow, ...]


@frozen
class WalkTest:
    """Data of the page."""

    caution: str
    before: tuple[str, ...]
    last: LastWalk | None
    steps: tuple[StepPart, ...]
    lines: tuple[LinePart, ...]
    untestable: tuple[Unheard, ...]
    finder: Markup
    """JSON for the script."""


def page(book: Book) -> Page | None:
    """The walk test of a rig."""
    from markupsafe import Markup

    sheet = cover(book)
    if sheet is None:
        return None
    table = Table.of(book.rig)
    prints = fingerprints(book.rig)
    rows: dict[str, list[TroubleRow]] = {}
    for trouble in troubles(table):
        rows.setdefault(trouble.step, []).append(_trouble(book, trouble, trouble.step not in table.line_keys))
    own = {"rig": rig_print(prints), "prints": prints, "plan": _stem(book)}
    facts = WalkTest(
        CAUTION,
        BEFORE,
        shown(book, titles_of(table)),
        tuple(_step(book, s, i, tuple(rows.get(s.key, ()))) for i, s in enumerate(table.steps, 1)),
        tuple(_line(book, x, tuple(rows.get(x.key, ()))) for x in table.lines),
        _untestable(book, table.untestable),
        Markup(script_data({**own, **data(table, book.href, book.tongue.words)})),
    )
    return replace(sheet, data=facts)


def cover(book: Book) -> Page | None:
    """The page without its facts; None where there is nothing to walk."""
    if not steps(book.rig) and not line_check(book.rig):
        return None
    return Page("walk-test", phrase("Walk test"), "walk-test.html", None, phrase("engineer"))


def _stem(book: Book) -> str:
    """Name of the plan's own file: the record's begins with it, so that the next build finds it."""
    return PurePosixPath(book.plan.files[0]).stem


def _step(book: Book, step: Step, number: int, trouble: tuple[TroubleRow, ...]) -> StepPart:
    bus = step.bus.title if step.bus else ""
    after = {
        "silent": phrase("Pull the fader of %(bus)s down: everything must fall silent.", bus=bus),
        "stays": phrase("Pull the fader of %(bus)s down: everything must go on sounding.", bus=bus),
    }.get(step.fader, "")
    return StepPart(
        step.key,
        anchor("step", step.key),
        number,
        step.title,
        step.signal,
        step.signal_key,
        tuple(_control(book, c) for c in step.controls),
        tuple(_box(book, e) for e in step.expect),
        step.silent,
        tuple(_pair(book, p.a, p.b, p.what) for p in step.pairs),
        after,
        step.fader == "stays",
        trouble,
    )


def _control(book: Book, control: Control) -> ControlRow:
    href = book.href(control.sort, control.name) if control.sort in PAGES else ""
    return ControlRow(Link(control.words, href), control.setting)


def _box(book: Book, expected: Expected) -> BoxRow:
    known = expected.end in book.plan.units
    return BoxRow(
        Link(expected.end, book.href("unit", expected.end) if known else ""), expected.how, expected.station.words
    )


def _pair(book: Book, a: str, b: str, what: str) -> PairRow:
    return PairRow(f"{a}|{b}", book.link("unit", a), book.link("unit", b), what)


def _line(book: Book, line: Line, trouble: tuple[TroubleRow, ...]) -> LinePart:
    channel = line.channel
    return LinePart(
        line.key,
        anchor("step", line.key),
        book.link("channel", f"{channel.desk} {channel.number}", book.desk_name(channel.desk, str(channel.number))),
        side(channel.name, line.side),
        line.socket,
        line.source,
        line.phantom,
        line.do,
        line.heard,
        line.pre,
        trouble,
    )


def _trouble(book: Book, found: Trouble, links: bool) -> TroubleRow:
    return TroubleRow(found.pattern, tuple(_suspect(book, s, links) for s in found.suspects))


def _suspect(book: Book, suspect: Suspect, links: bool) -> SuspectRow:
    """With links in the walk test; the line check is a hundred inputs with the same words, for paper first."""
    faults = [r.fault for r in suspect.rows]
    places = {book.tongue.words(t.called or t.name): book.href(t.sort, t.name) for f in faults for t in f.things}
    said = [book.tongue.words(f.words) for f in faults]
    words = tuple(linked(text, places) if links else text.replace("`", "") for text in said)
    return SuspectRow(words, book.tongue.words(faults[0].check).replace("`", ""), faults[0].label)


def linked(text: str, places: dict[str, str]) -> Markup:
    """A sentence with the names in backticks as links to their places."""
    from markupsafe import Markup, escape

    out: list[str] = []
    for i, part in enumerate(text.split("`")):
        if i % 2 == 0:
            out.append(escape(part))
        elif places.get(part):
            out.append(f'<a href="{escape(places[part])}">{escape(part)}</a>')
        else:
            out.append(f"<b>{escape(part)}</b>")
    return Markup("".join(out))


def _untestable(book: Book, rows: tuple[Row, ...]) -> tuple[Unheard, ...]:
    """Faults that no step shows, by reason; one sentence for all that differ by a name only."""
    out: dict[str, dict[str, list[str]]] = {}
    for row in rows:
        parts = book.tongue.words(row.fault.words).split("`")
        same = out.setdefault(row.reason, {}).setdefault("`".join(parts[::2]), [])
        same.append(", ".join(parts[1::2]) if same else "`".join(parts))
    between = book.tongue.sign("; ")
    said = ((reason, tuple((s[0], between.join(s[1:])) for s in groups.values())) for reason, groups in out.items())
    return tuple(Unheard(*item) for item in said)
