"""Where to stand to hear a box, in words, and the order that walks the room with few steps back."""

from __future__ import annotations

from collections.abc import Iterable
from math import cos, dist, radians, sin

from rigbook.graph.rig import Rig
from rigbook.language.record import Record
from rigbook.language.values.positions import Position
from rigbook.plan.model import Unit
from rigbook.records import frozen
from rigbook.text.phrase import joined, phrase
from rigbook.units.quantity import Amount

AWAY_M = 5.0
"""Distance in front of a box for the audience (common practice: well beyond arm's length, still clearly that box)."""
CLOSE_M = 1.5
"""Distance in front of a stage monitor: where the performer's head is (common practice)."""
Point = tuple[float, float]


@frozen
class Station:
    """A place to stand: in words, and as metres to house right and out from the middle of the stage's front edge."""

    words: str
    point: Point | None


def station(rig: Rig, box: str) -> Station:
    """Where to stand to hear one box."""
    unit = rig.plan.units.get(box)
    at = located(rig, unit.position) if unit else None
    if unit is None or at is None:
        return Station(phrase("in front of %(box)s", box=unit.title if unit else box), None)
    target = unit.aim.target if unit.aim else ""
    if target:
        aimed = point_of(rig, target)
        if is_monitor(unit):
            return Station(
                phrase("at %(place)s, in front of %(box)s", place=target, box=unit.title), aimed or (at.x, at.y)
            )
    turn = unit.aim.degrees if unit.aim else (180.0 if is_monitor(unit) else 0.0)
    away = CLOSE_M if is_monitor(unit) else AWAY_M
    spot = _in_audience(rig, (at.x + away * sin(radians(turn)), at.y + away * cos(radians(turn))), unit)
    area = _area(rig, spot)
    words = phrase("in front of %(box)s: %(place)s", box=unit.title, place=place_words(spot))
    return Station(joined((words, phrase("in the area %(area)s", area=area))) if area else words, spot)


def is_monitor(unit: Unit) -> bool:
    """It plays at the stage, not at the audience."""
    return bool(unit.kind and unit.kind.get("box") == "wedge")


def located(rig: Rig, at: Position | None) -> Position | None:
    """A position with figures: a named place looked up."""
    if at is None or not at.place:
        return at
    got = rig.plan.places.get(at.place)
    return got if got is not None and not got.place else None


def point_of(rig: Rig, name: str) -> Point | None:
    """Where a named place or unit, or the source of a channel of that name, is."""
    unit = rig.plan.units.get(name)
    known = rig.plan.places.get(name) or (unit.position if unit else None)
    if known is None:
        said = (c.record.get("at") for c in rig.plan.channels if c.name.lower().replace(" ", "-") == name)
        known = next((p for p in said if isinstance(p, Position)), None)
    at = located(rig, known)
    return (at.x, at.y) if at else None


def place_words(point: Point) -> str:
    """A point in the words of the plan: `4 m left, 6 m out`."""
    x, y = round(point[0]), round(point[1])
    across, along = Amount(str(abs(x)), "m"), Amount(str(abs(y)), "m")
    side = phrase("in the middle")
    if x:
        side = phrase("%(length)s left", length=across) if x < 0 else phrase("%(length)s right", length=across)
    depth = phrase("at the stage edge")
    if y:
        depth = phrase("%(length)s out", length=along) if y > 0 else phrase("%(length)s back", length=along)
    return joined((side, depth))


def mix_position(rig: Rig) -> Point:
    """Where the desk is worked, and where a walk begins; out in the middle where the plan does not say."""
    room = rig.plan.sections.get("room")
    said = room.get("mix-position") if isinstance(room, Record) else None
    at = located(rig, said) if isinstance(said, Position) else None
    return (at.x, at.y) if at else (0.0, 10.0)


def areas(rig: Rig) -> tuple[tuple[str, Point, Point], ...]:
    """Audience areas by name, as the two corners of the rectangle around each."""
    room = rig.plan.sections.get("room")
    out = []
    for entry in room.get("audience", ()) if isinstance(room, Record) else ():
        if isinstance(entry.value, Record):
            ends = (entry.value.get("from"), entry.value.get("to"))
            corners = [*entry.value.get("outline", ()), *(p for p in ends if p is not None)]
            points = [(p.x, p.y) for c in corners if (p := located(rig, c))]
            if len(points) > 1:
                xs, ys = [p[0] for p in points], [p[1] for p in points]
                out.append((entry.name, (min(xs), min(ys)), (max(xs), max(ys))))
    return tuple(out)


def _in_audience(rig: Rig, point: Point, unit: Unit) -> Point:
    """The point, moved into the nearest audience area for a box that plays at the audience."""
    rooms = areas(rig)
    if is_monitor(unit) or not rooms:
        return point
    covered = [a for a in rooms if a[0] in unit.record.get("covers", ())] or rooms
    moved = [_clamped(point, low, high) for _, low, high in covered]
    return min(moved, key=lambda p: dist(p, point))


def _clamped(point: Point, low: Point, high: Point) -> Point:
    return (min(max(point[0], low[0]), high[0]), min(max(point[1], low[1]), high[1]))


def _area(rig: Rig, point: Point) -> str:
    return next((name for name, low, high in areas(rig) if _clamped(point, low, high) == point), "")


def walking_order(points: Iterable[Point | None], start: Point) -> tuple[int, ...]:
    """Indexes in walking order: always on to the nearest; of equals the one further left, then the earlier.

    Places that are not known come last, in the order given.
    """
    left = list(enumerate(points))
    out: list[int] = []
    here = start
    while left:
        known = [(i, p) for i, p in left if p is not None]
        if not known:
            return (*out, *(i for i, _ in left))
        best = min(known, key=lambda item: (round(dist(here, item[1]), 3), item[1][0], item[0]))
        left.remove(best)
        out.append(best[0])
        here = best[1]
    return tuple(out)
