"""Things to do in a step of the day: what is placed where, and what other pages hold for a step."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from types import MappingProxyType
from typing import TYPE_CHECKING, Final

from rigbook.graph.rig import Rig
from rigbook.handbook.anchors import href
from rigbook.handbook.words import chosen
from rigbook.plan.model import Unit
from rigbook.records import frozen
from rigbook.text.phrase import joined, phrase

if TYPE_CHECKING:
    from rigbook.handbook.book import Book, Note


@frozen
class Item:
    """One thing to do: a name that links to its place, and the rest of the sentence."""

    name: str
    href: str
    words: str
    key: str
    notes: tuple[Note, ...] = ()
    """What the plan says about the unit, where it is first dealt with."""


@frozen
class Task:
    """One step of the day."""

    key: str
    title: str
    why: str
    items: tuple[Item, ...]
    caution: str
    note: str
    """The desk's own note, as HTML made from Markdown; empty where there is none."""


def item(sort: str, name: str, words: str, task: str) -> Item:
    """Something to do with a thing of the plan, which has a place in the handbook."""
    return Item(name, href(sort, name), words, f"{task} {name}")


OVERHEAD: Final = ("hung", "truss", "wall")
BOXES: Final = ("sub", "top", "delay", "fill", "wedge")
"""Boxes in the order in which they are placed: the heavy ones first, the stage last, where the band sets up."""

CARRIED: Final = ("desk", "stage box", "splitter", "processor", "amplifier", "radio", "player", "recorder")
"""What stands somewhere in every rig, besides speakers, also where the plan does not say where."""


def placed(rig: Rig) -> Iterator[Item]:
    """Racks, then what hangs, while nobody has to stand below; then the boxes on the ground, and the rest.

    What sits in a rack comes in with it. A unit whose place the plan does not say is told of too: somebody must ask.
    """
    for rack in rig.plan.racks.values():
        at, lifts = rack.record.get("at"), rack.record.get("lifts")
        words = [rack.kind.title] if rack.kind else []
        words += [phrase("at %(place)s", place=at.text)] if at else []
        words += [phrase("lifted by %(who)s", who=lifts)] if lifts else []
        yield item("rack", rack.name, joined(words, "; "), "place")
    racked = {slot.unit for rack in rig.plan.racks.values() for _, slot in (*rack.front, *rack.rear)}
    units = (u for u in rig.plan.units.values() if not u.spare and u.name not in racked)
    found = [u for u in units if u.position or u.is_speaker or u.family in CARRIED]
    for unit in sorted(found, key=_turn):
        yield item("unit", unit.name, joined(_standing(unit), "; "), "place")


def _turn(unit: Unit) -> tuple[bool, bool, int, float, str]:
    """What is placed earlier: what hangs, subs, mains, fills, monitors; of a sort what is furthest back."""
    sort = str(unit.kind.get("box") or "") if unit.kind else ""
    rank = BOXES.index(sort) if sort in BOXES else 1
    overhead = unit.record.get("mount") in OVERHEAD
    return not unit.is_speaker, not overhead, rank, unit.position.y if unit.position else math.inf, unit.name


def _standing(unit: Unit) -> Iterator[str]:
    record = unit.record
    if unit.kind:
        yield unit.kind.title
    if unit.position:
        yield phrase("at %(place)s", place=unit.position.text)
    else:
        yield phrase("ask where: the plan says no place")
    mount = str(record.get("mount") or "")
    if mount and not (mount == "stand" and record.get("stand")):
        yield MOUNTED.get(mount) or chosen(mount)
    for key, message in STANDING.items():
        value = record.get(key)
        if value:
            yield phrase(message, value=getattr(value, "text", None) or str(value))
    if record.get("turned"):
        yield phrase("on its side")
    if record.get("safety"):
        yield phrase("second suspension: %(what)s", what=record.get("safety"))


MOUNTED: Final = MappingProxyType(
    {
        "ground": phrase("on the ground"),
        "stack": phrase("in a stack"),
        "stand": phrase("on a stand"),
        "wall": phrase("on the wall"),
        "truss": phrase("on the truss"),
    }
)
STANDING: Final = MappingProxyType(
    {"stand": phrase("on %(value)s"), "aim": phrase("aim %(value)s"), "tilt": phrase("tilt %(value)s")}
)
PAGES: Final = (
    ("line", "patch", "#inputs", phrase("Input list"), phrase("mute, plug, 48 V, then listen; tick the line as heard")),
    ("line", "tuning-sheet", "", phrase("Tuning sheet"), phrase("write down what the sound check settled, bus by bus")),
    ("hand", "ten-minutes", "", phrase("Ten minutes"), phrase("go through it together at the desk")),
    ("hand", "walk-test", "#begin", phrase("Walk test"), phrase("show the last record, and what is still open")),
    ("show", "index", "#order", phrase("Running order"), phrase("times and changes; what opens, what is muted")),
    ("show", "ten-minutes", "#limits", phrase("Limits"), phrase("read the level at the mix position, write it down")),
    ("show", "ten-minutes", "#ask", phrase("Who to ask"), phrase("whom to call, and who stops the show")),
    ("strike", "pull-list", "", phrase("Pull list"), phrase("tick every line as back; mark what is broken or missing")),
)
"""What another page holds for a step: the step, the page and place, its name, what to do there."""


def told(book: Book) -> Mapping[str, tuple[Item, ...]]:
    """By step, what is done with another page, as far as the view has it and the plan says something there."""
    lacking = {
        "#order": not book.plan.sections.get("running-order"),
        "#inputs": not book.plan.channels,
    }
    out: dict[str, tuple[Item, ...]] = {}
    for task, slug, place, name, words in PAGES:
        if slug in book.slugs and not lacking.get(place):
            out[task] = (*out.get(task, ()), Item(name, f"{slug}.html{place}", words, f"{task} {slug}{place}"))
    return MappingProxyType(out)
