"""Metres to a sheet, round steps for scales, and names beside a drawing with lines to what they name."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import combinations
from math import floor, log10

from rigbook.handbook.drawings import svg
from rigbook.handbook.tongue import Tongue
from rigbook.records import changing, frozen
from rigbook.units.quantity import Amount

CHARACTER = 5.9
"""Mean width of a character at the 11 px type of these drawings, with room to spare."""
PITCH = 14.0
"""From one name to the next, px."""
ROUND = (1.0, 2.0, 5.0, 10.0)


@frozen
class View:
    """Where metres come to lie on a sheet: x to the right, y down."""

    left: float
    """Sheet position of `from_x`, px."""
    top: float
    from_x: float
    """Metres at the left edge of the drawing."""
    from_y: float
    per_metre: float
    """Pixels for a metre, the same both ways."""

    def x(self, metres: float) -> float:
        """Sheet position across."""
        return self.left + (metres - self.from_x) * self.per_metre

    def y(self, metres: float) -> float:
        """Sheet position down."""
        return self.top + (metres - self.from_y) * self.per_metre

    def at(self, x: float, y: float) -> str:
        """A point as paths want it."""
        return f"{svg.num(self.x(x))} {svg.num(self.y(y))}"


def round_step(span: float, most: int) -> float:
    """The least of 1, 2, 5 times a power of ten of which a span holds no more than `most`; span above 0."""
    power = 10.0 ** floor(log10(span / most))
    return next(s * power for s in ROUND if span / (s * power) <= most + 1e-9)


def ticks(low: float, high: float, step: float) -> list[float]:
    """Multiples of a step within a range, both ends included."""
    first = -floor(-(low / step) + 1e-9)
    return [n * step for n in range(int(first), floor(high / step + 1e-9) + 1)]


def round_below(span: float) -> float:
    """The greatest of 1, 2, 5 times a power of ten that a span above 0 holds."""
    power = 10.0 ** floor(log10(span) + 1e-9)
    return max(s * power for s in ROUND[:3] if s * power <= span * (1 + 1e-9))


def scale_bar(x: float, y: float, per_metre: float, widest_px: float, tongue: Tongue) -> str:
    """A bar of a round length, half filled, with that length in metres."""
    metres = round_below(widest_px / per_metre)
    long = metres * per_metre
    return (
        svg.rect(x, y - 3, long / 2, 4, "bar-filled")
        + svg.rect(x + long / 2, y - 3, long / 2, 4, "bar-open")
        + svg.text(x, y - 6, "0", "axis", "middle")
        + svg.text(x + long, y - 6, tongue.words(Amount(f"{metres:g}", "m")), "axis", "middle")
    )


@changing
class Callout:
    """A name in the margin and the point it belongs to."""

    words: str
    href: str
    x: float
    y: float
    """The point, px."""
    at: float = 0.0
    """Where the name stands, px down."""


def place_callouts(callouts: list[Callout], edge: float, top: float) -> float:
    """Give each name of one margin its height: near its point, none over another, no lines that cross. Returns the
    height of the lowest.
    """
    callouts.sort(key=lambda c: (c.y, c.x))
    for c, at in zip(callouts, spread([c.y for c in callouts], PITCH, top), strict=True):
        c.at = at
    for _ in range(len(callouts)):
        if not sum(_untangle(a, b, edge) for a, b in combinations(callouts, 2)):
            break
    return max((c.at for c in callouts), default=top)


def spread(wishes: list[float], pitch: float, top: float) -> list[float]:
    """Places at least a pitch apart, in order, that lie as near to their wishes as can be (least squares: pool adjacent
    violators); none above `top`.
    """
    pools: list[tuple[float, int]] = []  # sum of wishes, each less the pitches above it; how many
    for i, wish in enumerate(wishes):
        pools.append((wish - i * pitch, 1))
        while len(pools) > 1 and pools[-2][0] / pools[-2][1] >= pools[-1][0] / pools[-1][1]:
            (a, n), (b, m) = pools[-2:]
            pools[-2:] = [(a + b, n + m)]
    flat = [max(total / n, top) for total, n in pools for _ in range(n)]
    return [base + i * pitch for i, base in enumerate(flat)]


def _untangle(a: Callout, b: Callout, edge: float) -> bool:
    """Exchange two names where their lines cross: that makes both shorter, so it comes to an end."""
    if max(a.at, a.y) <= min(b.at, b.y) or max(b.at, b.y) <= min(a.at, a.y):
        return False  # one lies above the other, as nearly all do
    if not _cross((edge, a.at), (a.x, a.y), (edge, b.at), (b.x, b.y)):
        return False
    a.at, b.at = b.at, a.at
    return True


def _cross(a: tuple[float, float], b: tuple[float, float], c: tuple[float, float], d: tuple[float, float]) -> bool:
    def side(p: tuple[float, float], q: tuple[float, float], r: tuple[float, float]) -> float:
        return (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0])

    return side(a, b, c) * side(a, b, d) < -1e-9 and side(c, d, a) * side(c, d, b) < -1e-9


def drawn_callouts(callouts: Iterable[Callout], edge: float, anchor: str) -> Iterator[str]:
    """Names at the edge of a margin, their lines first so that no line lies over a name."""
    every = list(callouts)
    for c in every:
        away = 3 if anchor == "end" else -3
        yield svg.path(f"M{svg.num(edge + away)} {svg.num(c.at)}L{svg.num(c.x)} {svg.num(c.y)}", "leader")
    for c in every:
        words = svg.text(edge, c.at + 4, c.words, "name", anchor)
        yield svg.link(c.href, words, c.words) if c.href else words


def widest(words: Iterable[str], least: float, most: float) -> float:
    """Room for names, px."""
    return min(max((len(w) * CHARACTER + 8 for w in words), default=least), most)


def cut(words: str, room: float) -> str:
    """A name that fits a margin; what is cut stands in the table."""
    fits = int((room - 8) / CHARACTER + 1e-6)
    return words if len(words) <= fits else words[: fits - 1] + "…"
