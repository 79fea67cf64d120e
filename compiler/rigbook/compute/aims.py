"""Each box against the places that it is there for: angles to the first and last row, and where it should point."""

from __future__ import annotations

import math
from collections.abc import Sequence

from rigbook.compute.figure import Figure, Missing, Result
from rigbook.compute.levels import LIMITS_OF_MODEL, Levels
from rigbook.compute.places import Spot
from rigbook.compute.sources import Source
from rigbook.physics.aim import aim_at, distance_between, listener_angles
from rigbook.physics.off_axis import HALF_PRESSURE_DB, off_axis_loss
from rigbook.records import frozen
from rigbook.text.phrase import phrase

STEP_DEG, REACH_DEG = 3, 15
ASIDE_DEG = 45.0
"""A fill or delay box that would have to turn by more is there for something else than is reckoned (ours)."""
UNSAID = phrase("the places it is there for lie beside or behind it: say which area it `covers`")
ALIKE_M = 1e-6
LEAST_PLACES = 48
"""Fewer would let one place more or less in a row decide over an aim; a small part of a large area is sampled finer."""
MOST_FINER = 64
"""A sliver is not searched for ever."""


@frozen
class BoxAim:
    """A box against what it is there for."""

    box: str
    to_first: Result
    """Angle down to the first row it is there for."""
    to_last: Result
    best: Result
    """Tilt that makes the level over it most even."""
    best_turn: Result
    covered: Figure
    """Share of its area within its nominal coverage, %."""
    covered_exchanged: Figure
    """The same if horizontal and vertical coverage were exchanged."""


def aims(levels: Levels) -> tuple[BoxAim, ...]:
    """Each main, fill and delay box that is placed, in plan order."""
    return tuple(aim_of(levels, s) for s in levels.covering) if levels.known else ()


def own_points(levels: Levels, source: Source) -> tuple[Spot, ...]:
    """The places a box is there for: the areas it names; of several boxes alike, those no nearer to another than to it.

    A place as near to two boxes belongs to both, so that a rig that is alike on both sides is judged alike. A fill or
    delay box that names none is there for what lies ahead of it.
    """
    return _sampled(levels, source)[0]


def _sampled(levels: Levels, source: Source) -> tuple[tuple[Spot, ...], float]:
    """Those places, and how far apart they lie at most, in m; sampled anew where few of them fell to the box."""
    there = {a.area.name for a in levels.by_area}
    # an area whose line could not be read is named, but not there
    named = there.intersection(source.box.unit.record.get("covers", ()))
    mine = [a for a in levels.by_area if not named or a.area.name in named]
    own = _own(levels, source, [p for a in mine for p in a.points], bool(named))
    finer = 1
    while len(own) < LEAST_PLACES and finer < MOST_FINER:
        finer = max(finer + 1, math.ceil(finer * LEAST_PLACES / len(own)))
        rows = [p for a in mine for row in a.area.rows(len(a.points) * finer) for p in row]
        own = _own(levels, source, rows, bool(named))
    return own, max(math.sqrt(a.area.size_m2 / (len(a.points) * finer)) for a in mine)


def _own(levels: Levels, source: Source, rows: list[Spot], named: bool) -> tuple[Spot, ...]:
    if source.box.helps and not named:
        rows = [p for p in rows if _ahead(source, p)] or rows
    rivals = [s for s in levels.covering if s.box.helps == source.box.helps]
    near = [
        p for p in rows
        if distance_between(source.spot, p) <= min(distance_between(s.spot, p) for s in rivals) + ALIKE_M
    ]  # fmt: skip
    return tuple(near or rows)


def _ahead(source: Source, place: Spot) -> bool:
    """In the half space before the box, along its aim over the ground."""
    turn = math.radians(source.aim.turn)
    return (place.x - source.spot.x) * math.sin(turn) + (place.y - source.spot.y) * math.cos(turn) > 0


def aim_of(levels: Levels, source: Source) -> BoxAim:
    """A box against its own places."""
    points, apart = _sampled(levels, source)
    ahead = sorted(points, key=lambda p: math.hypot(p.x - source.spot.x, p.y - source.spot.y))
    first, last = (aim_at(source.spot, p)[1] for p in (ahead[0], ahead[-1]))
    turn, tilt = _most_even(source, points, sorted((first, last)))
    how = phrase("angle from level to the ears, seen from the box")
    evenness = phrase("least spread of distance and off-axis loss over its places, tried in steps of 3°")
    inputs = ((phrase("places"), len(points), ""), (phrase("places apart, at most"), round(apart, 2), "m"))
    best: Result = Figure(tilt, "°", evenness, inputs, LIMITS_OF_MODEL, 0)
    best_turn: Result = Figure(turn, "°", evenness, inputs, LIMITS_OF_MODEL, 0)
    aside = abs((turn - source.aim.turn + 180.0) % 360.0 - 180.0) > ASIDE_DEG
    if source.box.helps and not source.box.unit.record.get("covers") and aside:
        best = best_turn = Missing(UNSAID)
    return BoxAim(
        source.box.name,
        Figure(first, "°", how),
        Figure(last, "°", how),
        best,
        best_turn,
        covered(source, points, source.aim.roll),
        covered(source, points, 90.0 - source.aim.roll),
    )


def covered(source: Source, points: Sequence[Spot], roll: float) -> Figure:
    """Share of some places within a box's nominal coverage, with the box turned about its axis."""
    inside = 0
    for p in points:
        h, v = listener_angles(source.spot, source.aim.turn, source.aim.tilt, p, roll)
        inside += off_axis_loss(h, v, source.coverage.horizontal, source.coverage.vertical) <= HALF_PRESSURE_DB
    return Figure(
        100 * inside / len(points), "%", phrase("places within nominal coverage"), (("places", len(points), ""),), (), 0
    )


def _most_even(source: Source, points: Sequence[Spot], rows_deg: Sequence[float]) -> tuple[float, float]:
    """Aim and tilt, in steps of 3°, for which distance and off-axis loss vary least over some places.

    The axis stays between the first and the last row: above it the model would trade level for evenness.
    """
    h, v = source.coverage.horizontal, source.coverage.vertical
    middle_turn, middle_tilt = aim_at(source.spot, [sum(c) / len(points) for c in zip(*points, strict=True)])
    spreads = [20 * math.log10(max(distance_between(source.spot, p), 0.5)) for p in points]
    best = (math.inf, 0.0, 0.0)
    for across in range(-REACH_DEG, REACH_DEG + 1, STEP_DEG):
        for up in range(-REACH_DEG, REACH_DEG + 1, STEP_DEG):
            turn, tilt = round(middle_turn) + across, max(min(round(middle_tilt) + up, rows_deg[-1]), rows_deg[0])
            losses = [
                s + off_axis_loss(*listener_angles(source.spot, turn, tilt, p, source.aim.roll), h, v)
                for s, p in zip(spreads, points, strict=True)
            ]
            mean = sum(losses) / len(losses)
            score = sum((x - mean) ** 2 for x in losses) / len(losses) + 0.05 * mean
            best = min(best, (score, float(turn), float(tilt)))
    return best[1], best[2]
