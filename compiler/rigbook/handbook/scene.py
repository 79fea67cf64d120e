"""What the speakers page draws: places in metres, boxes with their aim and coverage. Facts only; no look."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import hypot
from typing import TYPE_CHECKING

from rigbook.compute.aims import own_points
from rigbook.compute.areas import Area
from rigbook.compute.boxes import Box
from rigbook.compute.places import Aim, Spot
from rigbook.compute.results import Results, results
from rigbook.language.values.sizes import Coverage
from rigbook.records import frozen

if TYPE_CHECKING:
    from rigbook.handbook.book import Book

MAIN, FILL, SUB, STAGE = "main", "fill", "sub", "stage"


@frozen
class Mark:
    """A placed box."""

    name: str
    href: str
    sort: str
    """`main`, `fill` (fills and delay boxes), `sub` or `stage` (monitors)."""
    spot: Spot
    aim: Aim
    across: float | None
    """Nominal coverage seen from above, degrees; None where it is not known or goes all round."""
    upright: float | None
    """The same seen from the side."""
    first: Spot | None
    """Ears in the first row that it is there for; None where there are none."""
    last: Spot | None

    @property
    def reach(self) -> float | None:
        """Distance over the ground to the last row it is there for, m."""
        return hypot(self.last.x - self.spot.x, self.last.y - self.spot.y) if self.last else None


@frozen
class Scene:
    """Stage, audience, mix position and boxes."""

    stage: tuple[float, float, float] | None
    """Width, depth and height, m; the middle of its front edge is the origin."""
    areas: tuple[tuple[Area, str], ...]
    """Each audience area with the address of its place."""
    mix: Spot | None
    marks: tuple[Mark, ...]


def scene(book: Book) -> Scene:
    """Everything of a plan that has a place."""
    got = results(book.rig)
    stage = got.places.room.get("stage") if got.places.room else None
    return Scene(
        (float(stage.width), float(stage.depth), float(stage.height or 0)) if stage else None,
        tuple((area, book.href("area", area.name)) for area in got.levels.areas),
        got.places.mix,
        tuple(_marks(book, got)),
    )


def sort_of(box: Box) -> str:
    """What a box is for, in a word."""
    if box.to_stage:
        return STAGE
    return SUB if box.is_sub else FILL if box.helps or box.elsewhere else MAIN


def _marks(book: Book, got: Results) -> Iterator[Mark]:
    rows = {}
    if got.levels.known:
        for source in got.levels.covering:
            rows[source.box.name] = _rows(own_points(got.levels, source), source.spot)
    for box in got.boxes.all:
        spot = got.places.unit(box.name)
        if spot is None:
            continue
        aim, coverage = got.places.aim(box.unit), box.kind.get("coverage")
        across, upright = _angles(coverage, aim) if isinstance(coverage, Coverage) else (None, None)
        first, last = rows.get(box.name, (None, None))
        yield Mark(box.name, book.href("box", box.name), sort_of(box), spot, aim, across, upright, first, last)


def _rows(points: Sequence[Spot], spot: Spot) -> tuple[Spot, Spot]:
    """The nearest and the farthest of some places, over the ground."""
    ahead = sorted(points, key=lambda p: hypot(p.x - spot.x, p.y - spot.y))
    return ahead[0], ahead[-1]


def _angles(coverage: Coverage, aim: Aim) -> tuple[float | None, float | None]:
    """Coverage across and upright; exchanged for a box that lies on its side; None from half a turn on."""
    h, v = coverage.horizontal, coverage.vertical
    if round(aim.roll) % 180 == 90:
        h, v = v, h
    return (h if h < 180 else None), (v if v < 180 else None)
