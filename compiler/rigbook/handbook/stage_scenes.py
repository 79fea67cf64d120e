"""The scenes of the stage page: what is drawn of the stage, and of the whole site."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING

from rigbook.compute.places import Places
from rigbook.handbook.anchors import anchor
from rigbook.handbook.drawings.stage_plan import Area, Scene, Symbol, Way, Window
from rigbook.handbook.stage_marks import Mark, Run, Stage, span_words
from rigbook.language.record import Record
from rigbook.plan.model import Channel, Unit

if TYPE_CHECKING:
    from rigbook.handbook.book import Book

BESIDE_M, BEHIND_M, BEFORE_M = 2.5, 1.5, 2.5
"""Room around the stage that belongs to its plan: wings, the way behind, the floor in front."""
MARGIN_M = 1.2
"""Room beyond what stands outermost, for its label."""



def stage_window(book: Book, stage: Stage) -> tuple[Window, tuple[Area, ...]]:
    """The stage with what is around it; without a size, what stands near its front edge."""
    size = _size(book, "stage")
    if size:
        wide, deep = size[0], size[1]
        outline = Area("", "stage", _rectangle(-wide / 2, -deep, wide / 2, 0.0))
        beside = [abs(m.spot.x) for m in stage.marks if abs(m.spot.x) <= wide / 2 + BESIDE_M]
        behind = [-m.spot.y for m in stage.marks if deep < -m.spot.y <= deep + BEHIND_M]
        before = [m.spot.y for m in stage.marks if 0 < m.spot.y <= BEFORE_M]
        reach = max(max(beside, default=0.0), wide / 2) + MARGIN_M
        back, out = -max(behind, default=deep) - MARGIN_M / 2, max(before, default=0.0) + MARGIN_M
        return Window(-reach, back, reach, out), (outline,)
    spots = [m.spot for m in stage.marks if m.channels or m.monitors] or [m.spot for m in stage.marks]
    return _around([(s.x, s.y) for s in spots], 2.0), ()


def site_window(book: Book, stage: Stage) -> tuple[Window, tuple[Area, ...]]:
    """Everything that has a place, with the room, the stage and the audience areas."""
    areas = []
    room = _size(book, "size")
    stage_size = _size(book, "stage")
    if room:
        back = -(stage_size[1] if stage_size else 0.0)
        areas.append(Area("", "room", _rectangle(-room[0] / 2, back, room[0] / 2, back + room[1])))
    if stage_size:
        wide, deep = stage_size[0], stage_size[1]
        areas.append(Area("", "stage", _rectangle(-wide / 2, -deep, wide / 2, 0.0)))
    for name, record in book.entries(book.section("room"), "audience"):
        corners = _corners(book, record)
        if corners:
            areas.append(Area(name, "audience", corners))
    points = [(m.spot.x, m.spot.y) for m in stage.marks]
    return _around([*points, *(c for a in areas for c in a.corners)], 2.0), tuple(areas)


def _around(points: list[tuple[float, float]], room: float) -> Window:
    xs, ys = [p[0] for p in points], [p[1] for p in points]
    return Window(min(xs) - room, min(ys) - room, max(xs) + room, max(ys) + room)


def _rectangle(left: float, back: float, right: float, out: float) -> tuple[tuple[float, float], ...]:
    return ((left, back), (right, back), (right, out), (left, out))


def _size(book: Book, key: str) -> tuple[float, ...] | None:
    """Width, depth, height of the stage or the room, in metres."""
    room = book.section("room")
    got = room.get(key) if room else None
    return (got.width, got.depth, got.height) if got else None


def _corners(book: Book, record: Record) -> tuple[tuple[float, float], ...]:
    places = Places(book.plan)
    outline = [places.spot(p) for p in record.get("outline", ())]
    if outline:
        return tuple((s.x, s.y) for s in outline if s)
    a, b = places.spot(record.get("from")), places.spot(record.get("to"))
    return _rectangle(min(a.x, b.x), min(a.y, b.y), max(a.x, b.x), max(a.y, b.y)) if a and b else ()


def within(window: Window, mark: Mark) -> bool:
    """True where a mark stands in the window."""
    return window.left <= mark.spot.x <= window.right and window.back <= mark.spot.y <= window.out


def scene(
    book: Book, stage: Stage, ident: str, title: str, floor: tuple[Window, tuple[Area, ...]], shown: list[bool]
) -> Scene:
    """The drawing of the marks that are shown; runs to others end where these are, and are in the table."""
    number: dict[int, int] = {}
    symbols: list[Symbol] = []
    for i, mark in enumerate(stage.marks):
        if shown[i]:
            number[i] = len(symbols)
            symbols.append(_symbol(book, mark))
    ways = []
    for run in stage.runs:
        if run.start in number and run.end in number:
            words = _run_words(book, run)
            title = f"{_names(book, stage, run)}{book.tongue.sign(': ')}{words}"
            ways.append(Way(number[run.start], number[run.end], run.sort, words, title))
    described = book.say(
        "%(places)s places and %(runs)s runs of cable, to scale; the tables of this page say the same in words",
        places=len(symbols),
        runs=len(ways),
    )
    window, areas = floor
    # where the audience areas are drawn they say themselves where the audience is
    front = "" if any(a.sort == "audience" for a in areas) else book.say("audience")
    return Scene(ident, title, described, window, areas, tuple(symbols), tuple(ways), front)


def sort_of(mark: Mark) -> str:
    """The symbol of a mark, by what matters most there: inputs, monitor, speaker, rack, box."""
    if mark.channels:
        return "input"
    if mark.monitors:
        return "wedge"
    if mark.speakers:
        return "speaker"
    return "rack" if mark.racks else "box"


def _symbol(book: Book, mark: Mark) -> Symbol:
    places = Places(book.plan)
    sort = sort_of(mark)
    turn = None
    boxes = [*mark.monitors, *mark.speakers]
    if boxes and not mark.channels:
        aim = places.aim(boxes[0])
        turn = aim.turn if aim.said else None
    href = f"#{anchor('place', key_of(mark))}"
    return Symbol(mark.spot.x, mark.spot.y, sort, tuple(_lines(book, mark)), href, turn, bool(mark.circuits))


def _lines(book: Book, mark: Mark) -> Iterator[str]:
    """The label of a mark: its inputs with their numbers, the mixes of its monitors, its boxes."""
    if mark.channels:
        yield mark.name or mark.channels[0].name
        two = several_desks(mark)
        for c in mark.channels:
            yield f"{book.desk_name(c.desk, str(c.number)) if two else c.number} {c.name}"
        yield from _extras(book, mark.channels)
    for unit in mark.monitors:
        yield from dict.fromkeys((fed_by(book, unit) or unit.title, unit.title))
    yield from (unit.title for unit in mark.speakers)
    yield from (str(book.plan.racks[name].record.get("title") or name) for name in mark.racks)
    yield from (unit.title for unit in mark.units)


def several_desks(mark: Mark) -> bool:
    """True where channels of more than one desk stand there, so that their numbers need the desk."""
    return len({c.desk for c in mark.channels}) > 1


def _extras(book: Book, channels: Iterable[Channel]) -> Iterator[str]:
    """`2 stands, 1 DI`."""
    found = list(channels)
    stands = sum(bool(c.record.get("stand")) for c in found)
    boxes = sum(max(len(c.plugged), 1) for c in found if c.source_key == "di")
    words = []
    if stands:
        words.append(book.tongue.count(stands, "%(num)s stand", "%(num)s stands"))
    if boxes:
        words.append(book.tongue.count(boxes, "%(num)s DI", "%(num)s DIs"))
    if words:
        yield ", ".join(words)


def fed_by(book: Book, unit: Unit) -> str:
    """The buses that a speaker plays: `mix-3`."""
    found = dict.fromkeys(data["output"].name for _, data in book.rig.feeds_of_box.get(unit.name, ()))
    return ", ".join(found)


def key_of(mark: Mark) -> str:
    """What the anchor of a place is made of: its point, so that a new name changes no link."""
    return f"{mark.spot.x:.1f} {mark.spot.y:.1f}".replace("-", "m")


def name_of(book: Book, mark: Mark) -> str:
    """What a place is called: as the plan does, else by the first line of its label."""
    return mark.name or next(_lines(book, mark), "")


def _names(book: Book, stage: Stage, run: Run) -> str:
    return f"{name_of(book, stage.marks[run.start])} → {name_of(book, stage.marks[run.end])}"


def _run_words(book: Book, run: Run) -> str:
    many = f"{run.count} × " if run.count > 1 else ""
    return many + span_words(book.tongue, run.lengths) if run.lengths else (f"{run.count} ×" if run.count > 1 else "")


def on_site(stage: Stage, near: list[bool]) -> list[bool]:
    """Which marks the plan of the site shows: those beyond the stage, what runs from them lead to, and the mains."""
    tops = [any(u.kind and u.kind.get("box") == "top" for u in m.speakers) for m in stage.marks]
    shown = [top or not n for top, n in zip(tops, near, strict=True)]
    for run in stage.runs:
        if not (near[run.start] and near[run.end]):
            shown[run.start] = shown[run.end] = True
    return shown
