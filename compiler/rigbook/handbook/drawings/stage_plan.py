"""The stage, or the whole site, seen from above and to scale: the audience below, house left on the left.

Places are to scale, symbols are not. Runs of cable are drawn straight from place to place, told apart by their pattern.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Final, NamedTuple

from rigbook.handbook.drawings import svg
from rigbook.handbook.drawings.labels import Rect, Wish, leader, place
from rigbook.records import frozen

TYPE: Final = 11.5
LINE: Final = 14.0
"""Type and line of a label, in px."""
TALL: Final = 7
"""Lines of a label beyond which it gets a second column."""
WIDE, HIGH = 990.0, 560.0
"""Room of a sheet on its side within A4 and Letter, in px; labels that find no room within it make it longer."""
ON_RUN: Final = (0.5, 0.42, 0.58, 0.34, 0.66, 0.26, 0.74, 0.18, 0.82)
"""Where on a run its words may stand, as shares of its length, the first that is free."""
BESIDE: Final = 170.0
"""Room for labels on both sides of what is drawn, in px."""
STEPS: Final = (0.5, 1.0, 2.0, 5.0, 10.0, 20.0)


class Window(NamedTuple):
    """The part of the site that is drawn, in metres: x to house right, y out to the audience."""

    left: float
    back: float
    right: float
    out: float


@frozen
class Symbol:
    """A thing at its place, with the lines of its label; the first is in bold type."""

    x: float
    y: float
    sort: str
    """`input`, `wedge`, `speaker`, `box`, `rack`."""
    lines: tuple[str, ...]
    href: str
    turn: float | None = None
    """Where it points, in degrees: 0 out, + to house right."""
    mains: bool = False


@frozen
class Way:
    """A run of cable between two symbols, by number, with its words."""

    start: int
    end: int
    sort: str
    words: str
    title: str


@frozen
class Area:
    """An outline on the floor: the stage, an audience area."""

    name: str
    sort: str
    """`stage`, `audience`, `room`."""
    corners: tuple[tuple[float, float], ...]


class Scene(NamedTuple):
    """All that is drawn."""

    ident: str
    title: str
    described: str
    window: Window
    areas: tuple[Area, ...]
    symbols: tuple[Symbol, ...]
    ways: tuple[Way, ...]
    front: str
    """Words at the edge towards the audience."""


def draw(scene: Scene) -> str:
    """The drawing."""
    w = scene.window
    scale = min(WIDE / (w.right - w.left), HIGH / (w.out - w.back))
    # a narrow site gets no wide sheet: on a phone it would be all margin
    wide, high = min(WIDE, (w.right - w.left) * scale + 2 * BESIDE), (w.out - w.back) * scale
    shift = (wide - (w.right - w.left) * scale) / 2

    def at(x: float, y: float) -> tuple[float, float]:
        return shift + (x - w.left) * scale, (y - w.back) * scale

    marks = [_bounds(*at(s.x, s.y), s) for s in scene.symbols]
    sheet = Rect(2, 2, wide - 2, high - 2)
    bar = Rect(4, high - 26, 4 + 150, high)
    names = [name for area in scene.areas if (name := _name_of(area, at))]
    if scene.front:
        half = svg.wide(scene.front, TYPE) / 2 + 2
        names.append((Rect(wide / 2 - half, high - 20, wide / 2 + half, high), scene.front))
    kept = [bar, *(box for box, _ in names)]
    wishes = [Wish(i, marks[i], *_size(s.lines)) for i, s in enumerate(scene.symbols) if s.lines]
    labels, bottom = place(wishes, [*marks, *kept], sheet)
    body = [_area(area, at) for area in scene.areas]
    body += [_way(way, marks) for way in scene.ways]
    lengths = _lengths(scene.ways, marks, [*marks, *labels.values(), *kept])
    for box, words in lengths:
        body.append(svg.rect(box.left, box.top, box.right - box.left, box.bottom - box.top, "label-ground"))
        body.append(svg.text((box.left + box.right) / 2, box.bottom - 3, words, "run-length", "middle"))
    for i, symbol in enumerate(scene.symbols):
        body.append(_symbol(symbol, *at(symbol.x, symbol.y), labels.get(i), marks[i]))
    body += [svg.text((b.left + b.right) / 2, b.bottom - 6, words, "floor-words", "middle") for b, words in names]
    body.append(_bar(bar, scale))
    return svg.sheet(scene.ident, wide, max(bottom, high) + 2, scene.title, scene.described, body)


def _bounds(x: float, y: float, symbol: Symbol) -> Rect:
    reach = {"wedge": 15.0, "speaker": 13.0, "rack": 12.0, "box": 9.0}.get(symbol.sort, 8.0)
    return Rect(x - reach, y - reach, x + reach + (14 if symbol.mains else 0), y + reach)


def columns(lines: tuple[str, ...]) -> tuple[tuple[str, ...], ...]:
    """The lines of a label in columns, none longer than `TALL` by more than the head."""
    if len(lines) <= TALL + 1:
        return (lines,)
    count = -(-len(lines) // TALL)
    each = -(-len(lines) // count)
    return tuple(lines[i : i + each] for i in range(0, len(lines), each))


def _size(lines: tuple[str, ...]) -> tuple[float, float]:
    parts = columns(lines)
    wide = sum(max(svg.wide(line, TYPE, bold=True) for line in part) for part in parts) + 8 * (len(parts) - 1) + 8
    return wide, max(len(part) for part in parts) * LINE + 4


def _symbol(symbol: Symbol, x: float, y: float, label: Rect | None, mark: Rect) -> str:
    css = f"mark {symbol.sort}"
    parts = []
    if symbol.sort in ("wedge", "speaker"):
        parts.append(_pointing(symbol, x, y, css))
    elif symbol.sort == "input":
        parts.append(f'<circle cx="{svg.num(x)}" cy="{svg.num(y)}" r="5.5" class="{css}"/>')
    else:
        half = 10.0 if symbol.sort == "rack" else 7.0
        parts.append(svg.rect(x - half, y - half, 2 * half, 2 * half, css))
    if symbol.mains:
        left, top = mark.right - 13, y - 6
        parts.append(svg.rect(left, top, 12, 12, "mains-mark"))
        parts.append(svg.text(left + 6, top + 10, "~", "mains-sign", "middle"))
    if label:
        line = leader(label, mark)
        if line:
            parts.append(svg.path("M{} {}L{} {}".format(*map(svg.num, line)), "leader"))
        parts.append(svg.rect(*label[:2], label.right - label.left, label.bottom - label.top, "label-ground"))
        left = label.left + 4
        for c, part in enumerate(columns(symbol.lines)):
            for i, words in enumerate(part):
                css = "mark-name" if c == i == 0 else "mark-words"
                parts.append(svg.text(left, label.top + LINE * (i + 1) - 2, words, css))
            left += max(svg.wide(words, TYPE, bold=True) for words in part) + 8
    body = "".join(parts)
    return svg.link(symbol.href, body, ", ".join(symbol.lines)) if symbol.href else f"<g>{body}</g>"


def _pointing(symbol: Symbol, x: float, y: float, css: str) -> str:
    """A box that points somewhere: the wide side is its back, the stroke shows where it plays."""
    turn = math.radians(symbol.turn or 0.0)
    ahead, beside = (math.sin(turn), math.cos(turn)), (math.cos(turn), -math.sin(turn))

    def local(u: float, v: float) -> str:
        return f"{svg.num(x + u * ahead[0] + v * beside[0])} {svg.num(y + u * ahead[1] + v * beside[1])}"

    back, front = (11, 8) if symbol.sort == "wedge" else (9, 9)
    shape = ((-8, -back), (-8, back), (8, front), (8, -front))
    d = "M" + "L".join(local(u, v) for u, v in shape) + "Z"
    arrow = f"M{local(8, 0)}L{local(15, 0)}M{local(11, -3)}L{local(15, 0)}L{local(11, 3)}"
    aim = arrow if symbol.turn is not None else ""
    return svg.path(d, css) + (svg.path(aim, "aim") if aim else "")


def _way(way: Way, marks: list[Rect]) -> str:
    (x1, y1), (x2, y2) = (_middle(marks[n]) for n in (way.start, way.end))
    return svg.path(f"M{svg.num(x1)} {svg.num(y1)}L{svg.num(x2)} {svg.num(y2)}", f"run {way.sort}", way.title)


def _middle(mark: Rect) -> tuple[float, float]:
    return (mark.left + mark.right) / 2, (mark.top + mark.bottom) / 2


def _lengths(ways: tuple[Way, ...], marks: list[Rect], taken: list[Rect]) -> list[tuple[Rect, str]]:
    """Words on the runs, where there is room on the line itself; a run without stands in the table all the same."""
    out: list[tuple[Rect, str]] = []
    for way in ways:
        (x1, y1), (x2, y2) = (_middle(marks[n]) for n in (way.start, way.end))
        half = svg.wide(way.words, 10.5) / 2 + 2
        for step in ON_RUN if way.words else ():
            x, y = x1 + (x2 - x1) * step, y1 + (y2 - y1) * step
            box = Rect(x - half, y - 7, x + half, y + 7)
            if not any(box.meets(other, 1.0) for other in (*taken, *(b for b, _ in out))):
                out.append((box, way.words))
                break
    return out


def _area(area: Area, at: Callable[[float, float], tuple[float, float]]) -> str:
    points = [at(x, y) for x, y in area.corners]
    return svg.path("M" + "L".join(f"{svg.num(x)} {svg.num(y)}" for x, y in points) + "Z", f"floor {area.sort}")


def _name_of(area: Area, at: Callable[[float, float], tuple[float, float]]) -> tuple[Rect, str] | None:
    """The name of an area along its edge away from the stage; None where it has none."""
    if not area.name:
        return None
    points = [at(x, y) for x, y in area.corners]
    x, y = sum(p[0] for p in points) / len(points), max(p[1] for p in points)
    half = svg.wide(area.name, TYPE) / 2 + 2
    return Rect(x - half, y - 18, x + half, y), area.name


def _bar(box: Rect, scale: float) -> str:
    """A scale: as many metres as fit, in whole steps."""
    metres = max((s for s in STEPS if s * scale <= box.right - box.left - 50), default=STEPS[0])
    y, x = box.bottom - 8, box.left + 2
    wide = metres * scale
    left, right, top = svg.num(x), svg.num(x + wide), svg.num(y - 5)
    d = f"M{left} {top}v10M{left} {svg.num(y)}h{svg.num(wide)}M{right} {top}v10"
    return svg.path(d, "scale-bar") + svg.text(x + wide + 5, y + 4, f"{metres:g} m", "floor-words")
