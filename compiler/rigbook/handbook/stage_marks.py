"""What stands where, for the crew of the stage: inputs, monitors, boxes, racks and mains at their places, and the cable
runs between them. Things at one place are one mark.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Final

from rigbook.compute.places import Places, Spot
from rigbook.compute.stock import MIC_CABLE, needs
from rigbook.handbook.tongue import Tongue
from rigbook.plan.model import Channel, Unit
from rigbook.records import changing, field, frozen

if TYPE_CHECKING:
    from rigbook.handbook.book import Book

NEAR_M: Final = 0.15
"""Things closer than this, seen from above, stand at one place."""
APART: Final = ("speaker", "network", "mains")
"""What a cable carries that makes it a sort of its own; all else is `line`."""
MULTICORE, LEAD = "multicore", "lead"
"""Sorts of runs besides: several lines in one cable, and the leads of microphones and DIs."""


@changing
class Mark:
    """A place with what stands there."""

    spot: Spot
    name: str = ""
    """The plan's name of the place; else of the first thing there."""
    channels: list[Channel] = field(default_factory=list)
    monitors: list[Unit] = field(default_factory=list)
    speakers: list[Unit] = field(default_factory=list)
    """Loudspeakers that are no stage monitors."""
    units: list[Unit] = field(default_factory=list)
    """Other equipment outside of racks."""
    racks: list[str] = field(default_factory=list)
    circuits: list[str] = field(default_factory=list)
    """Circuits that feed what stands here."""


@changing
class Run:
    """Cables of one sort between two places."""

    start: int
    end: int
    """Numbers of the marks."""
    sort: str
    count: int = 0
    lengths: list[float] = field(default_factory=list)
    """In metres, of those whose length is said or reckoned."""
    reckoned: bool = False
    """True where some length is reckoned from places."""
    kinds: dict[str, int] = field(default_factory=dict)
    what: list[str] = field(default_factory=list)
    """The cables, each by its ends or its label."""


@frozen
class Stage:
    """All marks and runs; and the names of what has no place."""

    marks: tuple[Mark, ...]
    runs: tuple[Run, ...]
    loose_channels: tuple[Channel, ...]
    loose_units: tuple[Unit, ...]
    at: dict[str, int]
    """Mark of each unit, racked or not."""


def is_monitor(book: Book, unit: Unit) -> bool:
    """A speaker that is built as a stage monitor, or that plays nothing but monitor mixes."""
    feeds = book.rig.feeds_of_box.get(unit.name, ())
    roles = {book.rig.net.nodes[edge[0]]["bus"].role for edge, _ in feeds}
    return bool(unit.kind and unit.kind.get("box") == "wedge") or roles == {"monitor"}


def stage_of(book: Book) -> Stage:
    """Where everything of a plan stands."""
    places = Places(book.plan)
    marks: list[Mark] = []
    at: dict[str, int] = {}
    loose_units = []
    for channel in book.plan.channels:
        spot = places.channel(channel)
        if spot is not None:
            mark = marks[_mark(marks, spot, _typed(channel.record.get("at")))]
            mark.channels.append(channel)
    racks = {name: spot for name, r in book.plan.racks.items() if (spot := places.spot(r.record.get("at")))}
    for name, spot in racks.items():
        number = _mark(marks, spot, _typed(book.plan.racks[name].record.get("at")) or name)
        marks[number].racks.append(name)
        for _, item in (*book.plan.racks[name].front, *book.plan.racks[name].rear):
            if item.unit:
                at[item.unit] = number
    for unit in book.units:
        spot = places.spot(unit.position)
        if unit.name in at:
            continue
        if spot is None:
            if unit.family not in ("radio transmitter",):
                loose_units.append(unit)
            continue
        number = _mark(marks, spot, (unit.position.place if unit.position else "") or unit.name)
        mark = marks[number]
        monitor = unit.is_speaker and is_monitor(book, unit)
        (mark.monitors if monitor else mark.speakers if unit.is_speaker else mark.units).append(unit)
        at[unit.name] = number
    _mains(book, marks, at)
    homeless = [c for c in book.plan.channels if places.channel(c) is None and not _elsewhere(book, c, at)]
    channels = tuple({c.name: c for c in homeless[::-1]}.values())[::-1]  # one voice on two desks is said once
    return Stage(tuple(marks), tuple(_runs(book, marks, at)), channels, tuple(loose_units), at)


def _typed(position: object) -> str:
    return str(getattr(position, "place", "") or "")


def _mark(marks: list[Mark], spot: Spot, name: str) -> int:
    """The number of the mark at a spot; made where there is none."""
    for i, mark in enumerate(marks):
        if abs(mark.spot.x - spot.x) <= NEAR_M and abs(mark.spot.y - spot.y) <= NEAR_M:
            mark.name = mark.name or name
            return i
    marks.append(Mark(spot, name))
    return len(marks) - 1


def _elsewhere(book: Book, channel: Channel, at: dict[str, int]) -> bool:
    """True for a channel whose place is that of something else: another desk's channel of the same microphone, or a
    player that is placed. A radio receiver's place says nothing of the voice.
    """
    if channel.source_key:
        return False
    for origin in (o for s in channel.sockets for o in book.rig.origins_of(s.id)):
        unit = book.rig.unit(origin)
        if origin.startswith("source ") or (unit is not None and unit.family != "radio" and unit.name in at):
            return True
    return False


def _mains(book: Book, marks: list[Mark], at: dict[str, int]) -> None:
    for name, record in book.entries(book.section("power"), "circuits"):
        for unit in record.get("feeds", ()):
            number = at.get(str(unit))
            if number is not None and name not in marks[number].circuits:
                marks[number].circuits.append(name)


def _runs(book: Book, marks: list[Mark], at: dict[str, int]) -> Iterator[Run]:
    """Runs between marks, the cables of the plan before the leads of microphones."""
    out: dict[tuple[int, int, str], Run] = {}
    pieces = {(n.span, n.what): n for n in needs(book.plan) if n.length_m is not None}
    for sheath, lines in book.sheaths.items():
        first = lines[0]
        a, b = at.get(first.start.unit), at.get(first.end.unit)
        if a is None or b is None or a == b:
            continue
        carries = str(first.kind.get("carries")) if first.kind else ""
        run = _run(out, a, b, MULTICORE if len(lines) > 1 else carries if carries in APART else "line")
        need = pieces.get((first.span, sheath))
        title = first.kind.title if first.kind else first.kind_name
        _add(run, title, book.label(first), need.length_m if need else None, bool(need and need.reckoned))
    number = {id(c): i for i, mark in enumerate(marks) for c in mark.channels}
    for channel in book.plan.channels:
        a = number.get(id(channel))
        for socket in channel.plugged if channel.source_key else ():
            b = at.get(socket.unit)
            if a is None or b is None or a == b:
                continue
            need = pieces.get((channel.span, channel.name))
            known = need if need is not None and need.kind == MIC_CABLE else None
            words = f"{channel.number} {channel.name}"
            run = _run(out, a, b, LEAD)
            _add(run, "", words, known.length_m if known else None, bool(known and known.reckoned))
    yield from out.values()


def _run(out: dict[tuple[int, int, str], Run], a: int, b: int, sort: str) -> Run:
    """The run between two marks, whichever way its cables are written."""
    key = (min(a, b), max(a, b), sort)
    return out.setdefault(key, Run(a, b, sort))


def _add(run: Run, kind: str, what: str, metres: float | None, reckoned: bool) -> None:
    run.count += 1
    run.what.append(what)
    run.reckoned |= reckoned
    if metres is not None:
        run.lengths.append(metres)
    if kind:
        run.kinds[kind] = run.kinds.get(kind, 0) + 1


def span_words(tongue: Tongue, metres: list[float]) -> str:
    """`10 m`, or `10–20 m`; empty where no length is known."""
    if not metres:
        return ""
    low, high = (tongue.number(f"{m:g}") for m in (min(metres), max(metres)))
    return f"{low} m" if low == high else f"{low}–{high} m"
