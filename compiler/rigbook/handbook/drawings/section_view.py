"""The rig from the side, to scale: floor, ears, boxes with their tilt, coverage and rays to first and last row.

Everything is projected onto the plane through the middle of the stage, looking from house left; so angles of boxes
that point aside look steeper here than they are. The table of boxes has them in space.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import atan2, cos, degrees, radians, sin

from rigbook.handbook.drawings import svg
from rigbook.handbook.drawings.scale import CHARACTER, PITCH, View, round_step, scale_bar, ticks
from rigbook.handbook.scene import STAGE, SUB, Mark, Scene
from rigbook.handbook.tongue import Tongue
from rigbook.records import frozen
from rigbook.units.quantity import Amount

WIDE, TALLEST, LEFT, RIGHT = 400.0, 420.0, 30.0, 8.0
"""Px of the sheet: a phone shows it as it is; room for heights at the left."""
MARGIN_M = 1.0
LABEL = 12.0
"""Least room from one height to the next, px."""
HEAD_M = 2.0
"""Least height that is drawn, m."""


@frozen
class Seen:
    """Boxes that look the same from the side."""

    names: tuple[str, ...]
    href: str
    mark: Mark

    @property
    def words(self) -> str:
        """Their names; of many the first and the last."""
        return ", ".join(self.names) if len(self.names) < 3 else f"{self.names[0]} … {self.names[-1]}"


def draw(scene: Scene, tongue: Tongue, title: str) -> str:
    """The section; empty where no box for the audience has a place."""
    seen = gathered(scene)
    if not seen:
        return ""
    low_y, high_y = extent(scene)
    top_z = max([HEAD_M, *(s.mark.spot.z for s in seen), *(c.z + a.ear_m for a, _ in scene.areas for c in a.corners)])
    per_metre = min((WIDE - LEFT - RIGHT) / (high_y - low_y), TALLEST / (top_z + 0.4))
    high_y = low_y + (WIDE - LEFT - RIGHT) / per_metre
    head = PITCH * len(seen) + 10
    high = (top_z + 0.4) * per_metre
    # heights run up, the sheet runs down: the view holds minus z
    view = View(LEFT, head, low_y, -(top_z + 0.4), per_metre)
    frame = (LEFT, head, (high_y - low_y) * per_metre, high)
    inside = [x for s in seen for x in _rays(s.mark, view, scene, high_y)]
    body = [
        '<clipPath id="section-frame">' + svg.rect(*frame, "") + "</clipPath>",
        *_heights(view, top_z, high_y, tongue), *_ground(scene, view, tongue),
        f'<g clip-path="url(#section-frame)">{"".join(inside)}</g>',
        *_named(seen, view),
    ]  # fmt: skip
    foot = head + high
    step = round_step(high_y - low_y, 8)
    for metres in ticks(low_y, high_y, step):
        body.append(svg.path(f"M{view.at(metres, 0)}v4", "tick-line"))
        body.append(svg.text(view.x(metres), foot + 15, f"{metres:g}", "axis", "middle"))
    body.append(svg.text(WIDE - RIGHT, foot + 30, tongue.say("metres out from the stage edge"), "axis", "end"))
    body.append(scale_bar(LEFT, foot + 36, per_metre, 120, tongue))
    return svg.sheet("section-view", WIDE, foot + 44, title, describe(seen, tongue), body)


def gathered(scene: Scene) -> list[Seen]:
    """Boxes for the audience; those that look the same together, from the stage outwards."""
    found: dict[tuple[object, ...], list[Mark]] = {}
    for m in scene.marks:
        if m.sort != STAGE:
            key = (m.sort, round(m.spot.y, 1), round(m.spot.z, 1), round(side_tilt(m)), m.upright)
            found.setdefault(key, []).append(m)
    seen = [Seen(tuple(m.name for m in ms), ms[0].href, ms[0]) for ms in found.values()]
    return sorted(seen, key=lambda s: (s.mark.spot.y, -s.mark.spot.z))


def side_tilt(mark: Mark) -> float:
    """Angle of a box's axis as it looks from the side, degrees; beyond 90 it points upstage."""
    turn, tilt = radians(mark.aim.turn), radians(mark.aim.tilt)
    return degrees(atan2(sin(tilt), cos(tilt) * cos(turn)))


def extent(scene: Scene) -> tuple[float, float]:
    """Metres that the drawing holds, from upstage to the last row."""
    ys = [m.spot.y for m in scene.marks if m.sort != STAGE] + [c.y for a, _ in scene.areas for c in a.corners]
    ys += [-scene.stage[1], 0.0] if scene.stage else []
    ys += [scene.mix.y] if scene.mix else []
    return min(ys) - MARGIN_M, max(ys) + MARGIN_M


def describe(seen: list[Seen], tongue: Tongue) -> str:
    """The drawing in words."""
    names = tongue.sign("; ").join(", ".join(s.names) for s in seen)
    return tongue.say(
        "Seen from house left, the stage at the left. Boxes drawn: %(names)s. Heights, tilts and angles to the first "
        "and last row stand in the table of boxes.",
        names=names,
    )


def _heights(view: View, top_z: float, high_y: float, tongue: Tongue) -> Iterator[str]:
    step = max(round_step(top_z, max(1, min(4, int(top_z * view.per_metre / LABEL)))), 1.0)
    for metres in ticks(0.0, top_z + 0.3, step):
        y = view.y(-metres)
        yield svg.path(f"M{svg.num(LEFT)} {svg.num(y)}H{svg.num(view.x(high_y))}", "floor" if not metres else "grid")
        yield svg.text(LEFT - 4, y + 4, tongue.words(Amount(f"{metres:g}", "m")) if metres else "0", "axis", "end")


def _ground(scene: Scene, view: View, tongue: Tongue) -> Iterator[str]:
    if scene.stage:
        _, depth, height = scene.stage
        tall = max(height * view.per_metre, 1.0)
        yield svg.rect(view.x(-depth), view.y(0) - tall, depth * view.per_metre, tall, "stage-side")
    for area, _ in scene.areas:
        front, rear = min(area.corners, key=lambda c: c.y), max(area.corners, key=lambda c: c.y)
        yield svg.path(f"M{view.at(front.y, -front.z)}L{view.at(rear.y, -rear.z)}", "area-side", area.name)
        ears = f"M{view.at(front.y, -front.z - area.ear_m)}L{view.at(rear.y, -rear.z - area.ear_m)}"
        yield svg.path(ears, "ears", tongue.say("ears in %(area)s", area=area.name))
    if scene.mix:
        x, y = view.x(scene.mix.y), view.y(-scene.mix.z)
        cross = f"M{svg.num(x - 4)} {svg.num(y)}h8M{svg.num(x)} {svg.num(y - 4)}v8"
        yield svg.path(cross, "mix", tongue.say("mix position"))


def _rays(mark: Mark, view: View, scene: Scene, high_y: float) -> Iterator[str]:
    """Axis, edges of the coverage, and the ways to the first and last row."""
    if mark.sort == SUB:
        return
    reach = (mark.reach or 0.0) if mark.first else max(high_y - mark.spot.y, 1.0)
    tilt = side_tilt(mark)
    if mark.upright is not None and abs(tilt) < 90:
        low, high = (_ahead(mark, view, tilt + s * mark.upright / 2, reach) for s in (-1, 1))
        yield svg.path(f"M{low}L{view.at(mark.spot.y, -mark.spot.z)}L{high}", f"cover {mark.sort}", mark.name)
    for row in (mark.first, mark.last):
        if row:
            yield svg.path(f"M{view.at(mark.spot.y, -mark.spot.z)}L{view.at(row.y, -row.z)}", "ray")
            x, y = svg.num(view.x(row.y)), svg.num(view.y(-row.z))
            yield f'<circle cx="{x}" cy="{y}" r="2" class="row-end"/>'
    if mark.aim.said or mark.aim.tilt:
        yield svg.path(f"M{view.at(mark.spot.y, -mark.spot.z)}L{_ahead(mark, view, tilt, reach)}", "axis-ray")


def _ahead(mark: Mark, view: View, angle_deg: float, reach_m: float) -> str:
    """A point so far ahead of a box at an angle."""
    far = max(reach_m, 1.0)
    return view.at(mark.spot.y + far * cos(radians(angle_deg)), -(mark.spot.z + far * sin(radians(angle_deg))))


def _named(seen: list[Seen], view: View) -> Iterator[str]:
    """Names above, one a line, each with a line down to its box; left of that line where there is no room."""
    for i, s in enumerate(seen):
        x, y = view.x(s.mark.spot.y), view.y(-s.mark.spot.z)
        baseline = 12.0 + PITCH * i  # leftmost on top: no line runs through a name
        room = len(s.words) * CHARACTER
        left = x + 4 + room > WIDE
        yield svg.path(f"M{svg.num(x)} {svg.num(baseline - 8)}V{svg.num(y)}", "leader")
        words = svg.text(x - 4 if left else x + 4, baseline, s.words, "name", "end" if left else "start")
        yield svg.link(s.href, words, s.words) if s.href else words
        yield svg.rect(x - 3, y - 3, 6, 6, {SUB: "box-sub", "main": "box-main"}.get(s.mark.sort, "box-fill"))
