"""The rig from above, to scale: stage, audience, boxes with their aim and nominal coverage, mix position."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import cos, radians, sin

from rigbook.handbook.drawings import svg
from rigbook.handbook.drawings.scale import (
    Callout,
    View,
    cut,
    drawn_callouts,
    place_callouts,
    scale_bar,
    widest,
)
from rigbook.handbook.scene import MAIN, STAGE, SUB, Mark, Scene
from rigbook.handbook.tongue import Tongue
from rigbook.records import replace

WIDE, TALLEST = 400.0, 620.0
"""Px of the sheet: a phone shows it as it is."""
MARGIN_M = 1.2
ARROW = 20.0
"""Length of an aim arrow, px."""
NEAR_M = 3.0
"""What stands so near to the stage is shown in a close-up, where the plan view has less than `LEGIBLE` px for a metre
and there are as many as `FEW`.
"""
FEW, LEGIBLE = 6, 12.0
Extent = tuple[float, float, float, float]


def draw(scene: Scene, tongue: Tongue, title: str) -> str:
    """The plan view; empty where nothing has a place. Boxes that `close_up` shows are drawn without their names."""
    if not scene.marks:
        return ""
    closer = close_up(scene)
    named = [m for m in scene.marks if closer is None or m not in closer.marks]
    return _sheet(scene, named, extent(scene), tongue, ("plan-view", title))


def draw_close_up(scene: Scene, tongue: Tongue, title: str) -> str:
    """The stage and what stands at it, larger; empty where the plan view is large enough."""
    closer = close_up(scene)
    if closer is None:
        return ""
    return _sheet(closer, closer.marks, extent(replace(closer, areas=(), mix=None)), tongue, ("plan-close-up", title))


def close_up(scene: Scene) -> Scene | None:
    """What stands at the stage, where that is much and the plan view is too small to name it; else None."""
    if scene.stage is None or not scene.marks:
        return None
    width, depth, _ = scene.stage
    near = tuple(m for m in scene.marks if abs(m.spot.x) < width / 2 + NEAR_M and -depth < m.spot.y < NEAR_M)
    if len(near) < FEW or _per_metre(extent(scene), _room(scene.marks, scene, "")) > LEGIBLE:
        return None
    return replace(scene, marks=near, mix=None)


def extent(scene: Scene) -> Extent:
    """Metres that the drawing holds: x from, x to, y from, y to."""
    xs = [m.spot.x for m in scene.marks] + [c.x for a, _ in scene.areas for c in a.corners]
    ys = [m.spot.y for m in scene.marks] + [c.y for a, _ in scene.areas for c in a.corners]
    if scene.stage:
        xs += [-scene.stage[0] / 2, scene.stage[0] / 2]
        ys += [-scene.stage[1], 0.0]
    if scene.mix:
        xs.append(scene.mix.x)
        ys.append(scene.mix.y)
    return min(xs) - MARGIN_M, max(xs) + MARGIN_M, min(ys) - MARGIN_M, max(ys) + MARGIN_M


def _room(named: Sequence[Mark], scene: Scene, mix: str) -> float:
    return widest([*(m.name for m in named), mix if scene.mix else ""], 40, 104)


def _per_metre(size: Extent, room: float) -> float:
    return min((WIDE - 2 * room) / (size[1] - size[0]), TALLEST / (size[3] - size[2]))


def _sheet(scene: Scene, named: Sequence[Mark], size: Extent, tongue: Tongue, called: tuple[str, str]) -> str:
    low_x, high_x, low_y, high_y = size
    ident, title = called
    mix = tongue.say("mix position")
    room = _room(named, scene, mix)
    per_metre = _per_metre(size, room)
    slack = (WIDE - 2 * room - (high_x - low_x) * per_metre) / 2
    view = View(room + slack, 10.0, low_x, low_y, per_metre)
    frame = svg.rect(room, view.top, WIDE - 2 * room, (high_y - low_y) * per_metre, "")
    ground = [*_ground(scene, view, tongue), *(c for m in scene.marks for c in _cover(m, view))]
    body = [f'<clipPath id="{ident}-frame">{frame}</clipPath>']
    body.append(f'<g clip-path="url(#{ident}-frame)">{"".join(ground)}</g>')
    inside = [(a, href) for a, href in scene.areas if low_y < a.middle.y < high_y]
    body += [s for area, href in inside for s in _area_name(area.name, area.middle, href, view)]
    body += [_box(m, view) for m in scene.marks]
    points = [Callout(m.name, m.href, view.x(m.spot.x), view.y(m.spot.y)) for m in named]
    if scene.mix:
        body.append(_mix(view.x(scene.mix.x), view.y(scene.mix.y)))
        points.append(Callout(mix, "", view.x(scene.mix.x), view.y(scene.mix.y)))
    left = _left(points, view.x(0.0))
    bottom = view.y(high_y)
    for edge, anchor, mine in (
        (room - 6, "end", left), (WIDE - room + 6, "start", [c for c in points if c not in left]),
    ):  # fmt: skip
        for c in mine:
            c.words = cut(c.words, room)
        bottom = max(bottom, place_callouts(mine, edge, view.top + 6))
        body += drawn_callouts(mine, edge, anchor)
    foot = bottom + 28
    body.append(scale_bar(room, foot, per_metre, WIDE / 2 - room, tongue))
    body.append(_outwards(WIDE - room - 4, foot, tongue))
    return svg.sheet(ident, WIDE, foot + 8, title, describe(scene, tongue), body)


def describe(scene: Scene, tongue: Tongue) -> str:
    """The drawing in words; its figures stand in the table of boxes."""
    names = ", ".join(m.name for m in scene.marks)
    return tongue.say(
        "Seen from above, the stage at the top, the audience below it. Boxes drawn: %(names)s. Places, aims and "
        "coverage stand in the table of boxes.",
        names=names,
    )


def _left(points: list[Callout], middle: float) -> list[Callout]:
    """Points named in the left margin: those left of the middle, and of those in the middle as many as balance it."""
    left = [c for c in points if c.x < middle - 2]
    spare = max(0, (len(points) + 1) // 2 - len(left))
    return left + [c for c in points if abs(c.x - middle) <= 2][:spare]


def _ground(scene: Scene, view: View, tongue: Tongue) -> Iterator[str]:
    for area, _ in scene.areas:
        corners = "L".join(view.at(c.x, c.y) for c in area.corners)
        yield svg.path(f"M{corners}Z", "area", area.name)
    if scene.stage:
        width, depth, _ = scene.stage
        x, y = view.x(-width / 2), view.y(-depth)
        yield svg.rect(x, y, width * view.per_metre, depth * view.per_metre, "stage-outline")
        yield svg.text(view.x(0), y + 13, tongue.say("Stage"), "place", "middle")


def _area_name(name: str, middle: tuple[float, float, float], href: str, view: View) -> Iterator[str]:
    words = svg.text(view.x(middle[0]), view.y(middle[1]) + 4, name, "place", "middle")
    yield svg.link(href, words, name) if href else words


def _cover(mark: Mark, view: View) -> Iterator[str]:
    """The nominal coverage as a sector, as far as the last row that the box is there for."""
    if mark.sort in (STAGE, SUB) or mark.across is None or not mark.reach:
        return
    half = mark.across / 2
    (x1, y1), (x2, y2) = (
        (mark.spot.x + mark.reach * sin(radians(turn)), mark.spot.y + mark.reach * cos(radians(turn)))
        for turn in (mark.aim.turn - half, mark.aim.turn + half)
    )
    r = svg.num(mark.reach * view.per_metre)
    # seen from above with y down, a growing turn runs against the clock
    yield svg.path(
        f"M{view.at(mark.spot.x, mark.spot.y)}L{view.at(x1, y1)}A{r} {r} 0 {int(mark.across > 180)} 0 "
        f"{view.at(x2, y2)}Z", f"cover {mark.sort}", mark.name,
    )  # fmt: skip


def _box(mark: Mark, view: View) -> str:
    """The box itself and where it points. Shape tells the sort, so that it needs no colour."""
    x, y = view.x(mark.spot.x), view.y(mark.spot.y)
    if mark.sort == SUB:
        return svg.rect(x - 3.5, y - 3.5, 7, 7, "box-sub")
    turn = radians(mark.aim.turn)
    ahead, right = (sin(turn), cos(turn)), (cos(turn), -sin(turn))
    corners = ((-5.0, -3.0), (5.0, -3.0), (3.0, 4.0), (-3.0, 4.0))  # the face ahead is the longer side
    shape = [(x + a * right[0] - b * ahead[0], y + a * right[1] - b * ahead[1]) for a, b in corners]
    css = {MAIN: "box-main", STAGE: "box-stage"}.get(mark.sort, "box-fill")
    body = svg.path("M" + "L".join(f"{svg.num(a)} {svg.num(b)}" for a, b in shape) + "Z", css)
    if not mark.aim.said:
        return body
    long = ARROW if mark.sort != STAGE else ARROW / 2

    def at(along: float, aside: float) -> str:
        return f"{svg.num(x + along * ahead[0] + aside * right[0])} {svg.num(y + along * ahead[1] + aside * right[1])}"

    barbs = (long - 4, 2.5), (long, 0.0), (long - 4, -2.5)
    arrow = f"M{at(3, 0)}L{at(long, 0)}M" + "L".join(at(*b) for b in barbs)
    return svg.path(arrow, "aim") + body


def _mix(x: float, y: float) -> str:
    return svg.path(f"M{svg.num(x - 5)} {svg.num(y)}h10M{svg.num(x)} {svg.num(y - 5)}v10", "mix")


def _outwards(x: float, y: float, tongue: Tongue) -> str:
    arrow = svg.path(f"M{svg.num(x)} {svg.num(y - 16)}v16m-4 -5l4 5l4 -5", "aim")
    return arrow + svg.text(x - 9, y - 4, tongue.say("to the audience"), "axis", "end")
