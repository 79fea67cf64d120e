"""Levels over an audience area, to scale: steps of level as ever denser tone with a line around each, and figures.

Each step lies over the one before with the same thin tone, so louder is denser in every theme, to every eye and on
every printer; the figures and the lines say the same without any tone. All bands are in the drawing, one is shown.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence
from math import ceil, floor
from typing import TYPE_CHECKING

from rigbook.compute.level_map import LevelMap
from rigbook.compute.sources import BANDS, SILENT_DB
from rigbook.handbook.anchors import slug
from rigbook.handbook.drawings import svg
from rigbook.handbook.drawings.scale import View, round_step, scale_bar, ticks
from rigbook.handbook.tongue import Tongue
from rigbook.records import frozen

if TYPE_CHECKING:
    from rigbook.compute.level_map import Array

WIDE, TALLEST = 400.0, 430.0
"""Px of the sheet, and of the tallest area."""
LEFT, RIGHT, TOP = 34.0, 14.0, 22.0
STEPS_DB = (1, 2, 3, 6)
MOST_STEPS = 7
FIGURE_PX = (34.0, 29.0)
"""Least room for a printed figure, across and down."""
TELL_TENTHS = 5
"""Distance of two points of a line that are told apart, in tenths of a px."""
FIGURE_WIDE = 20.0
"""Room that a figure takes, px."""
PER_BAND = (0.0, *BANDS)
"""What the layers of a map stand for: 0 is the A-weighted sum."""


@frozen
class Steps:
    """The steps of level of one band, the same for every area of a show."""

    layer: int
    hz: float
    """0 for the A-weighted sum."""
    lows: tuple[int, ...]
    """Lower end of each step, dB, rising; what lies lower belongs to the lowest, too."""
    step_db: int


@frozen
class Figures:
    """What is printed into a map: rows of (x, y, level) at places of the grid."""

    rows: tuple[tuple[tuple[float, float, float], ...], ...]


def steps_of(maps: Sequence[LevelMap]) -> tuple[Steps, ...]:
    """The steps of every band in which anything is heard."""
    out = []
    for layer, hz in enumerate(PER_BAND):
        heard = [m.levels[layer][m.inside] for m in maps]
        low, high = min(float(v.min()) for v in heard), max(float(v.max()) for v in heard)
        if high <= SILENT_DB / 2:
            continue
        step = next((s for s in STEPS_DB if _lowest(high, s) <= low), STEPS_DB[-1])
        top = ceil(high / step) * step
        first = floor(max(low, _lowest(high, step)) / step) * step
        out.append(Steps(layer, hz, tuple(range(first, max(top, first + 1), step)), step))
    return tuple(out)


def _lowest(high: float, step: int) -> int:
    return ceil(high / step) * step - MOST_STEPS * step


def scale_of(maps: Sequence[LevelMap]) -> float:
    """Pixels for a metre, the same for every area."""
    across, down = (max(float(a[-1] - a[0]) for a in axes) for axes in ([m.x for m in maps], [m.y for m in maps]))
    return min((WIDE - LEFT - RIGHT) / across, TALLEST / down)


def draw(area: LevelMap, steps: Sequence[Steps], per_metre: float, tongue: Tongue) -> str:
    """The map of one area."""
    name = area.area.name
    view = View(LEFT, TOP, float(area.x[0]), float(area.y[0]), per_metre)
    ident = f"map-{slug(name)}"
    outline = "M" + "L".join(view.at(c.x, c.y) for c in area.area.corners) + "Z"
    shown = figures(area, per_metre)
    foot = view.y(float(area.y[-1]))
    body = [f'<clipPath id="{ident}-clip"><path d="{outline}"/></clipPath>', *_axes(area, view)]
    for band in steps:
        tones = "".join(svg.path(d, "rise") for d in tones_of(area, band, view))
        body.append(
            f'<g class="band band-{band.hz:g}"><g clip-path="url(#{ident}-clip)">{tones}</g>'
            f"{''.join(_figures(shown, area, band.layer, view))}{_key(band, foot + 44)}</g>"
        )
    body.append(svg.path(outline, "outline"))
    body.append(scale_bar(LEFT, foot + 24, per_metre, 90, tongue))
    body.append(svg.text(WIDE - RIGHT, foot + 24, tongue.say("stage at the top; metres"), "axis", "end"))
    title = tongue.say("Level over %(area)s", area=name)
    described = tongue.say(
        "Seen from above. Lines and tones stand for steps of level, figures for the level in dB at their place, "
        "rounded; the tables say the same. Neighbouring places of the grid are %(step)s m apart at most.",
        step=area.step_m,
    )
    return svg.sheet(ident, WIDE, foot + 44 + 30, title, described, body)


def tones_of(area: LevelMap, band: Steps, view: View) -> Iterator[str]:
    """For each step above the lowest the outline of all that is at least so loud, as a path."""
    from contourpy import FillType, contour_generator

    xs, ys = view.left + (area.x - view.from_x) * view.per_metre, view.top + (area.y - view.from_y) * view.per_metre
    # copies of a tone can cancel to minus infinity, between which and a number there is no line
    held = area.levels[band.layer].clip(band.lows[0] - 2 * band.step_db)
    lines = contour_generator(xs, ys, held, name="serial", fill_type=FillType.OuterOffset)
    yield _whole(xs, ys)
    for low in band.lows[1:]:
        parts = []
        # above any level there is: contours are asked for between two
        for points, ends in zip(*lines.filled(float(low), 1e9), strict=True):
            parts += [_closed(points[a:b]) for a, b in itertools.pairwise(ends)]
        if any(parts):
            yield "".join(parts)


def _whole(xs: Array, ys: Array) -> str:
    x, y, right, down = (svg.num(float(v)) for v in (xs[0], ys[0], xs[-1], ys[-1]))
    return f"M{x} {y}H{right}V{down}H{x}Z"


def _closed(points: Array) -> str:
    """A closed line, each point told from the one before in tenths that add up without drift; points that nobody could
    tell from the one before are left out.
    """
    tenths = [(round(float(x) * 10), round(float(y) * 10)) for x, y in points[:-1]]
    x1, y1 = tenths[0]
    steps = []
    for x2, y2 in tenths[1:]:
        if abs(x2 - x1) + abs(y2 - y1) >= TELL_TENTHS:
            steps.append(f"{svg.num((x2 - x1) / 10)} {svg.num((y2 - y1) / 10)}")
            x1, y1 = x2, y2
    return f"M{svg.num(tenths[0][0] / 10)} {svg.num(tenths[0][1] / 10)}l{' '.join(steps)}z" if steps else ""


def figures(area: LevelMap, per_metre: float) -> Figures:
    """The places whose level is printed: whole rows and columns of the grid, far enough apart to be read."""
    every = [max(1, ceil(room / per_metre / float(a[1] - a[0]))) for a, room in
             zip((area.x, area.y), FIGURE_PX, strict=True)]  # fmt: skip
    columns, rows = (_picked(len(a), n) for a, n in zip((area.x, area.y), every, strict=True))
    half = ceil(FIGURE_WIDE / 2 / per_metre / float(area.x[1] - area.x[0]))
    found = []
    for j in rows:
        clear = [i for i in columns if area.inside[j, max(i - half, 0) : i + half + 1].all()]
        row = tuple((float(area.x[i]), float(area.y[j]), float(area.levels[0, j, i])) for i in clear)
        if row:
            found.append(row)
    return Figures(tuple(found))


def _picked(count: int, every: int) -> range:
    """Every n-th of some, as many left out at one end as at the other, and never the outermost where that can be."""
    inner = count - 2 if count > 2 else count
    number = max(1, (inner - 1) // every + 1)
    first = (count - 1 - (number - 1) * every) // 2
    return range(first, first + (number - 1) * every + 1, every)


def _figures(shown: Figures, area: LevelMap, layer: int, view: View) -> Iterator[str]:
    columns = {float(x): i for i, x in enumerate(area.x)}
    rows = {float(y): j for j, y in enumerate(area.y)}
    for row in shown.rows:
        whole = [(x, round(float(area.levels[layer, rows[y], columns[x]]))) for x, y, _ in row]
        cells = "".join(f'<tspan x="{svg.num(view.x(x))}">{level}</tspan>' for x, level in whole)
        yield f'<text y="{svg.num(view.y(row[0][1]) + 4)}" class="figure" text-anchor="middle">{cells}</text>'


def _axes(area: LevelMap, view: View) -> Iterator[str]:
    left, right, front, rear = (float(v) for v in (area.x[0], area.x[-1], area.y[0], area.y[-1]))
    for metres in ticks(left, right, round_step(right - left, 8)):
        yield svg.path(f"M{svg.num(view.x(metres))} {svg.num(TOP - 4)}v4", "tick-line")
        yield svg.text(view.x(metres), TOP - 8, f"{abs(metres):g}", "axis", "middle")
    for metres in ticks(front, rear, round_step(rear - front, 8)):
        yield svg.path(f"M{svg.num(LEFT - 4)} {svg.num(view.y(metres))}h4", "tick-line")
        yield svg.text(LEFT - 7, view.y(metres) + 4, f"{metres:g}", "axis", "end")


def _key(band: Steps, y: float) -> str:
    """Each step with its range; each tone lies over those before it, as in the map."""
    wide = (WIDE - LEFT - RIGHT) / MOST_STEPS
    out = []
    for i, low in enumerate(band.lows):
        x = LEFT + i * wide
        out.append(svg.rect(x, y - 9, wide * (len(band.lows) - i), 12, "rise"))
        words = f"{low}–{low + band.step_db}" if i else f"≤ {low + band.step_db}"
        out.append(svg.text(x + wide / 2, y + 16, words, "axis key", "middle"))
    return "".join(out)
