"""Delays of fills and delay boxes, and of subs against mains, from where things stand."""

from __future__ import annotations

from rigbook.compute.boxes import Box, Boxes
from rigbook.compute.figure import Figure, Missing, Result, worked
from rigbook.compute.limits import Limits
from rigbook.compute.places import Places, Spot
from rigbook.language.record import Record
from rigbook.physics.aim import distance_between
from rigbook.physics.precedence import fill_delay, second_arrival
from rigbook.physics.speed_of_sound import speed_of_sound
from rigbook.physics.travel import travel_time
from rigbook.records import frozen
from rigbook.text.phrase import phrase
from rigbook.units.quantity import Amount

EAR_M, STANDING_M = 1.2, 1.65
"""Ears of a listener who sits, and of one who stands (common practice)."""


@frozen
class Delay:
    """A fill or delay box against the box that it helps."""

    box: str
    helps: str
    listener: Spot | None
    """The middle of what it is there for."""
    where: str
    """The same in words."""
    main_distance: Result
    own_distance: Result
    main_time: Result
    """Travel time from the main box."""
    own_time: Result
    offset: Figure
    """How much later than the main box it is meant to arrive, so that the ear looks to the main box."""
    wanted: Result
    """Delay to set, against the main box."""
    set_ms: float
    """Delay that the plan sets, against the main box."""
    later: Result
    """How much later than the main box it arrives as set."""
    heard: str
    """How the ear takes that: `shifts`, `fuses`, `blurs`, `echo`; `first` where it comes first; empty: not known."""


@frozen
class SubAlignment:
    """A sub against the main box nearest to it, at the mix position."""

    sub: str
    top: str
    sub_distance: Result
    top_distance: Result
    later: Result
    """How much later than the main box the sub arrives as set; below 0 it comes first."""


def delays(boxes: Boxes, places: Places, limits: Limits) -> tuple[Delay, ...]:
    """Every fill and delay box with the delay it wants."""
    mains = tuple(b for b in boxes.audience if b.is_main)
    return tuple(_delay(boxes, box, mains, places, limits) for box in boxes.audience if box.helps and mains)


def sub_alignments(boxes: Boxes, places: Places) -> tuple[SubAlignment, ...]:
    """Every placed sub against the nearest placed main box."""
    here = places.mix
    if here is None:
        return ()
    placed = [(b, spot) for b in boxes.audience if b.is_main and (spot := places.unit(b.name))]
    out = []
    for sub in boxes.subs:
        there = places.unit(sub.name)
        if there is None or not placed:
            continue
        top, spot = min(placed, key=lambda p: distance_between(there, p[1]))
        own, other = distance_between(there, here), distance_between(spot, here)
        speed = speed_of_sound(places.temperature_c)
        set_s = delay_set(boxes, sub.name) - delay_set(boxes, top.name)
        later = (travel_time(own, speed) - travel_time(other, speed) + set_s) * 1000
        inputs = (("sub", own, "m"), ("main box", other, "m"), ("delay set", set_s * 1000, "ms"))
        out.append(
            SubAlignment(
                sub.name,
                top.name,
                _metres(own),
                _metres(other),
                Figure(
                    later,
                    "ms",
                    phrase("difference of travel times at the mix position, and of delays set"),
                    inputs,
                    _air(places),
                    2,
                ),
            )
        )
    return tuple(out)


def delay_set(boxes: Boxes, name: str) -> float:
    """The least delay that the plan sets on a way to a box, in seconds."""
    return min((a.delay_s for _, a in boxes.ways.get(name, ())), default=0.0)


def helped(box: Box, mains: tuple[Box, ...], places: Places) -> Box:
    """The main box that another one helps: as typed, else the nearest on its side, else the first."""
    said = str(box.unit.record.get("supports") or "")
    for main in mains:
        if main.name == said:
            return main
    here = places.unit(box.name)
    placed = [(distance_between(here, spot), i) for i, m in enumerate(mains) if here and (spot := places.unit(m.name))]
    return mains[min(placed)[1]] if placed else mains[0]


def listening_point(box: Box, places: Places) -> tuple[Spot | None, str]:
    """Where a fill or delay box is judged: the middle of the area it covers; else where its axis meets the ears."""
    room, covers = places.room, box.unit.record.get("covers", ())
    for entry in room.get("audience", ()) if room else ():
        if entry.name in covers and isinstance(entry.value, Record):
            spot = middle_of(entry.value, places)
            if spot:
                return spot, phrase("middle of `%(area)s`", area=entry.name)
    here = places.unit(box.name)
    if here is None:
        return None, ""
    return on_axis(box, here, places), phrase("where its axis meets the ears")


def middle_of(area: Record, places: Places) -> Spot | None:
    """The ears in the middle of an audience area."""
    corners = [places.spot(p) for p in (area.get("outline") or (area.get("from"), area.get("to")))]
    known = [c for c in corners if c]
    if len(known) < 2:
        return None
    ear = area.get("ear-height")
    height = float(ear.value) if ear is not None else (STANDING_M if area.get("standing") else EAR_M)
    n = len(known)
    return Spot(sum(c.x for c in known) / n, sum(c.y for c in known) / n, sum(c.z for c in known) / n + height)


def on_axis(box: Box, here: Spot, places: Places, farthest_m: float = 4.0) -> Spot:
    """The point where a box's axis comes down to ears at 1.2 m, at most 4 m away (common practice for a fill)."""
    from math import cos, radians, sin, tan

    aim = places.aim(box.unit)
    down = -aim.tilt
    reach = farthest_m
    if 0 < down < 90 and here.z > EAR_M:
        reach = min((here.z - EAR_M) / tan(radians(down)), 30.0)
    reach = max(reach, 0.5)
    return Spot(here.x + reach * sin(radians(aim.turn)), here.y + reach * cos(radians(aim.turn)), EAR_M)


def _delay(boxes: Boxes, box: Box, mains: tuple[Box, ...], places: Places, limits: Limits) -> Delay:
    main = helped(box, mains, places)
    listener, where = listening_point(box, places)
    speed, offset = speed_of_sound(places.temperature_c), limits["delay-offset"]
    usual = () if limits.typed("delay-offset") else (phrase("how much later a fill may come is common practice"),)
    meant = Figure(offset * 1000, "ms", phrase("limit `delay-offset` of the plan's checks"), (), usual)
    set_s = delay_set(boxes, box.name) - delay_set(boxes, main.name)
    here, there = places.unit(box.name), places.unit(main.name)
    if listener is None or here is None or there is None:
        lacking = box.name if here is None else main.name
        none = Missing(phrase("the plan does not say where `%(box)s` stands", box=lacking))
        return Delay(box.name, main.name, None, "", none, none, none, none, meant, none, set_s * 1000, none, "")
    own, other = distance_between(here, listener), distance_between(there, listener)
    inputs = (("main box", other, "m"), ("own box", own, "m"), ("offset", offset * 1000, "ms"))
    wanted = worked(
        lambda: Figure(
            fill_delay(other, own, speed, offset) * 1000, "ms", phrase("(d1 − d2)/c + offset"), inputs, _air(places)
        )
    )
    late = travel_time(own, speed) - travel_time(other, speed) + set_s
    later = Figure(late * 1000, "ms", phrase("difference of travel times, and the delay set"), inputs[:2], _air(places))
    heard = second_arrival(late) if late >= 0 else "first"
    ways = (_metres(other), _metres(own), _time(other, speed, places), _time(own, speed, places))
    return Delay(box.name, main.name, listener, where, *ways, meant, wanted, set_s * 1000, later, heard)


def _metres(distance: float) -> Result:
    return Figure(distance, "m", phrase("distance between two places of the plan"))


def _time(distance: float, speed: float, places: Places) -> Result:
    inputs = (("distance", distance, "m"), ("speed of sound", speed, "m/s"))
    return Figure(travel_time(distance, speed) * 1000, "ms", "d/c", inputs, _air(places))


def _air(places: Places) -> tuple[str, ...]:
    return (phrase("air at %(amount)s", amount=Amount(f"{places.temperature_c:g}", "°C")),)
