"""Set-up: the day's steps in an order derived from the rig, with the desk's own notes slotted in."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING

from rigbook.compute.results import results
from rigbook.graph.codes import codes
from rigbook.graph.rig import Rig
from rigbook.handbook.anchors import href
from rigbook.handbook.set_up_items import Item, Task, item, placed, told
from rigbook.handbook.set_up_words import CAUTIONS, TITLES
from rigbook.handbook.views import CREW
from rigbook.handbook.words import both, change_words, chosen, processing_words
from rigbook.language.record import Record
from rigbook.plan.draft import ADDED, IN_HOUSE
from rigbook.plan.model import Bus, Cable, Output
from rigbook.plan.processing import Processing
from rigbook.records import frozen, replace
from rigbook.text.phrase import NOTHING, joined, phrase
from rigbook.units.quantity import Amount

if TYPE_CHECKING:
    from rigbook.handbook.book import Book
    from rigbook.handbook.page import Page

CHANGES = "index.html#changes"


@frozen
class SetUp:
    """Data of the page."""

    tasks: tuple[Task, ...]


def page(book: Book) -> Page | None:
    """The set-up page of a rig; none for a view that may not see the rig."""
    from rigbook.handbook.page import Page

    return Page(
        "set-up",
        phrase("Set-up"),
        "set-up.html",
        SetUp(tuple(_noted(book, tasks(book.rig, notes(book), book.view == CREW, told(book))))),
        phrase("engineer"),
    )


def notes(book: Book) -> dict[str, str]:
    """Desk notes of the plan by step, as HTML, those that the view may show."""
    return {e.name: book.note(e.value.get("text")) for e in book.plan.sections["desk-notes"] if book.shows(e.value)}


def tasks(
    rig: Rig, desk_notes: dict[str, str], crew: bool = True, further: Mapping[str, tuple[Item, ...]] = NOTHING
) -> tuple[Task, ...]:
    """Every step that this rig needs, in order, with what else is to be done in it. What a show changed is for the crew
    alone: no mark says who may read it.
    """
    out = []
    for key, make in STEPS:
        why, items = make[0], tuple(i for i in make[1](rig) if crew or i.href != CHANGES)
        items += further.get(key, ())
        if items or desk_notes.get(key):
            out.append(Task(key, TITLES[key], why, items, CAUTIONS.get(key, ""), desk_notes.get(key, "")))
    return tuple(out)


def _noted(book: Book, made: tuple[Task, ...]) -> Iterator[Task]:
    """The steps with the notes about each unit at the first thing to do with it."""
    said: set[str] = set()
    for task in made:
        items = []
        for each in task.items:
            new = each.key == f"{task.key} {each.name}" and each.name in book.plan.units and each.name not in said
            found = book.notes_about(each.name) if new else ()
            said.update((each.name,) if new else ())
            items.append(replace(each, notes=found) if found else each)
        yield replace(task, items=tuple(items))


def _rack(rig: Rig) -> Iterator[Item]:
    for rack in rig.plan.racks.values():
        for side, rows in (("front", rack.front), ("rear", rack.rear)):
            for low, slot in rows:
                what = slot.unit or joined((chosen(slot.filler), Amount(str(slot.height), "U")), " ")
                title = str(rack.record.get("title") or rack.name)
                words = joined((title, chosen(side), phrase("from unit %(n)s", n=low)))
                if slot.unit:
                    yield item("unit", slot.unit, words, "rack")
                else:
                    yield Item(what, href("rack", rack.name), words, f"rack {rack.name} {side} {low}")


def _connect(rig: Rig) -> Iterator[Item]:
    """Cables from the sources to the boxes; each sheath once."""
    rank = {node: i for i, node in enumerate(rig.order)}
    labels = codes(rig.plan)
    seen: set[str] = set()
    for cable in sorted(
        rig.plan.cables, key=lambda c: ((c in rig.carriers.cables and -1) or rank.get(c.start.id, 0), c.name)
    ):
        if cable.sheath not in seen:
            seen.add(cable.sheath)
            yield item("cable", cable.sheath, _cable_words(rig, cable, labels[cable.sheath]), "connect")


def _cable_words(rig: Rig, cable: Cable, label: str) -> str:
    lines = [c for c in rig.plan.cables if c.sheath == cable.sheath] if cable.kind and cable.kind.get("lines") else []
    title = cable.kind.title if cable.kind else cable.kind_name
    words = [title]
    if cable.length:
        words.append(cable.length.page())
    words.append(phrase("label %(label)s", label=label))
    if len(lines) > 1:
        last = f"{lines[-1].start.id} → {lines[-1].end.id}"
        words.append(phrase("%(number)s lines, to %(last)s", number=len(lines), last=last))
    return joined(words)


def _power(rig: Rig) -> Iterator[Item]:
    """In the order of the Power page: sources first, what makes sound last; each with its circuit."""
    mains = results(rig).mains
    for name in mains.order:
        kind = rig.plan.units[name].kind
        where = mains.circuit_of.get(name)
        circuit = phrase("circuit %(name)s", name=where) if where else phrase("no circuit in the plan")
        yield item("unit", name, joined((kind.title if kind else "", circuit)), "power")


def _route(rig: Rig) -> Iterator[Item]:
    for output in rig.plan.outputs:
        sockets = phrase("to %(sockets)s", sockets=both(s.id for s, _ in output.sockets))
        side = phrase("before the fader") if output.pick == "pre" else phrase("after the fader")
        yield item("output", _desk_name(rig, output.desk, output.name), joined((sockets, side)), "route")


def _desk_name(rig: Rig, desk: str, name: str) -> str:
    several = sum(u.family == "desk" for u in rig.plan.units.values()) > 1
    return f"{desk} {name}" if several else name


def _process(rig: Rig) -> Iterator[Item]:
    for bus in rig.plan.buses.values():
        yield from _processing_of("bus", bus, bus.processing, rig)
    for output in rig.plan.outputs:
        yield from _processing_of("output", output, output.processing, rig)
    for unit in rig.plan.units.values():
        for entry in unit.record.get("settings", ()):
            if isinstance(entry.value, Record):
                words = processing_words(entry.value)
                yield Item(
                    f"{unit.name}/{entry.name}", href("unit", unit.name), words, f"process {unit.name}/{entry.name}"
                )


def _processing_of(sort: str, thing: Bus | Output, processing: Processing, rig: Rig) -> Iterator[Item]:
    words = processing_words(thing.record)
    if words:
        yield item(sort, _desk_name(rig, thing.desk, thing.name), words, "process")


def _patch(rig: Rig) -> Iterator[Item]:
    for channel in rig.plan.channels:
        words = [
            phrase(
                "%(name)s: %(source)s in %(sockets)s",
                name=channel.name,
                source=channel.source_kind.title if channel.source_kind else phrase("cabled"),
                sockets=both(s.id for s in channel.plugged),
            )
        ]
        words += [phrase("48 V on")] if channel.record.get("phantom") else []
        words += [phrase("pad on")] if channel.record.get("pad") else []
        if channel.record.get("low-cut"):
            words.append(phrase("low cut %(value)s", value=channel.record.get("low-cut").text))
        name = phrase("channel %(n)s", n=channel.number)
        yield Item(
            name,
            href("channel", f"{channel.desk} {channel.number}"),
            joined(words),
            f"patch {channel.desk} {channel.number}",
        )


def _test(rig: Rig) -> Iterator[Item]:
    from rigbook.walk.steps import steps

    for step in steps(rig):
        boxes = joined(e.end for e in step.expect)
        words = phrase("%(signal)s; hear %(boxes)s, nothing else", signal=step.signal, boxes=boxes)
        yield Item(step.title, href("step", step.key), words, f"test {step.key}")


def _strike(rig: Rig) -> Iterator[Item]:
    """What this show changed goes back; then the power goes off the other way round."""
    for change in rig.plan.changes:
        known = change.before and change.before != IN_HOUSE
        back = phrase("put back: %(what)s", what=change_words(change.before)) if known else phrase("put back")
        back = phrase("take out") if change.after == ADDED else back
        words = phrase("%(what)s (%(reason)s)", what=back, reason=change.reason)
        yield Item(change.what, CHANGES, words, f"strike {change.what}")
    for each in reversed(list(_power(rig))):
        yield Item(each.name, each.href, phrase("off"), f"off {each.name}")


def nothing(rig: Rig) -> Iterator[Item]:
    """A step that has only what the desk notes and the other pages say."""
    return iter(())


STEPS = (
    (
        "place",
        (phrase("Mains in front of every open microphone, above head height; monitors at the performer."), placed),
    ),
    ("rack", (phrase("From the bottom up; heights count from the bottom."), _rack)),
    ("connect", (phrase("In the order of the signal, so that each end is there when its cable comes."), _connect)),
    ("power", (phrase("From source to amplifier, amplifiers last."), _power)),
    ("route", (phrase("Which bus leaves by which socket."), _route)),
    ("process", (phrase("Filters, delay and polarity before anything is loud."), _process)),
    ("patch", (phrase("In the order of the input list."), _patch)),
    ("test", (phrase("One leg of one bus at a time."), _test)),
    ("tune", (phrase("By ear and measurement, per bus."), nothing)),
    ("line", (phrase("One line after the other, in the order of the input list; then the band."), nothing)),
    ("hand", (phrase("Whoever works on the system learns it in ten minutes."), nothing)),
    ("show", (phrase("Keep what is hot, what is limited and whom to call within sight of the desk."), nothing)),
    (
        "strike",
        (
            phrase(
                "What the show changed goes back; then every fader down, and off the other way round, amplifiers "
                "first. Cables come out when everything is off."
            ),
            _strike,
        ),
    ),
)
