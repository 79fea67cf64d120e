"""The spectrum: carriers over the frequency they stand on, and below the line where their products fall."""

from __future__ import annotations

import math
from collections.abc import Iterable
from typing import Final, NamedTuple

from rigbook.handbook.drawings import svg

WIDE: Final = 900.0
EDGE: Final = 14.0
LANE: Final = 17.0
CROWN: Final = 6.0
"""Room between the frame of a band and the names in it."""
STEM: Final = 46.0
"""Height of a carrier above the line."""
BELOW: Final = 58.0
"""Room below the line for products, the scale and its numbers."""
LETTER: Final = 6.9
"""Width of a letter of 12 px, for keeping labels apart."""
MOST_MARKS: Final = 12
"""Numbers that a scale shows at most."""


class Mark(NamedTuple):
    """A carrier."""

    name: str
    hz: float
    bandwidth_hz: float
    href: str
    proposed_hz: float
    """Where it would go; its own frequency where it stays."""
    hit: bool


class Stretch(NamedTuple):
    """A part of the spectrum."""

    low_hz: float
    high_hz: float


def draw(
    stretches: Iterable[Stretch],
    bands: Iterable[Stretch],
    marks: Iterable[Mark],
    products_hz: Iterable[float],
    title: str,
    described: str,
) -> str:
    """The drawing: one panel a stretch, all to the scale of the widest, which fills the width."""
    body: list[str] = []
    y = 0.0
    shown = tuple(stretches)
    widest = max((s.high_hz - s.low_hz for s in shown), default=1.0)
    every, fall = tuple(marks), tuple(products_hz)
    allowed = tuple(bands)
    for stretch in shown:
        panel = _Panel(stretch, y, widest)
        mine = sorted((m for m in every if stretch.low_hz <= m.hz <= stretch.high_hz), key=lambda m: m.hz)
        body += panel.drawn(mine, allowed, [hz for hz in fall if stretch.low_hz <= hz <= stretch.high_hz])
        y = panel.bottom + 16
    return svg.sheet("spectrum", WIDE, max(y - 16, 1.0), title, described, body)


class _Panel:
    """One stretch, from `top` down: labels in lanes, stems, the line, products, the scale."""

    def __init__(self, stretch: Stretch, top: float, widest_hz: float) -> None:
        self.stretch, self.top, self.widest_hz = stretch, top, widest_hz
        self.per_hz = (WIDE - 2 * EDGE) / max(widest_hz, 1.0)
        self.end = self.x(stretch.high_hz)
        self.bottom = top

    def x(self, hz: float) -> float:
        """Place of a frequency."""
        return EDGE + (hz - self.stretch.low_hz) * self.per_hz

    def drawn(self, marks: list[Mark], bands: tuple[Stretch, ...], products_hz: list[float]) -> list[str]:
        """Everything in it."""
        lanes = _lanes([(self.x(m.hz), m.name) for m in marks])
        line = self.top + CROWN + LANE * (max(lanes, default=0) + 1) + STEM
        self.bottom = line + BELOW
        body = self._bands(bands, line)
        body += [self._carrier(mark, line, lane) for mark, lane in zip(marks, lanes, strict=True)]
        body.append(svg.path(f"M{svg.num(EDGE)} {svg.num(line)}H{svg.num(self.end)}", "spec-line"))
        ticks = "".join(f"M{self.x(hz):.1f} {svg.num(line + 3)}v9" for hz in products_hz)
        if ticks:
            body.append(svg.path(ticks, "spec-product"))
        hits = "".join(f"M{self.x(m.hz) - 5:.1f} {svg.num(line + 4)}l10 10m0 -10l-10 10" for m in marks if m.hit)
        if hits:
            body.append(svg.path(hits, "spec-hit"))
        return body + self._scale(line)

    def _bands(self, bands: tuple[Stretch, ...], line: float) -> list[str]:
        out = []
        for low, high in bands:
            left, right = max(low, self.stretch.low_hz), min(high, self.stretch.high_hz)
            if left < right:
                x = self.x(left)
                out.append(svg.rect(x, self.top + 2, self.x(right) - x, line - self.top - 2, "spec-band"))
        return out

    def _carrier(self, mark: Mark, line: float, lane: int) -> str:
        x, wide = self.x(mark.hz), max(mark.bandwidth_hz * self.per_hz, 3.0)
        label = self.top + CROWN + LANE * (lane + 1) - 3
        left = min(max(x, EDGE + LETTER * len(mark.name) / 2), WIDE - EDGE - LETTER * len(mark.name) / 2)
        parts = [
            svg.path(f"M{svg.num(x)} {svg.num(label + 4)}V{svg.num(line - STEM + 6)}", "spec-lead"),
            svg.rect(x - wide / 2, line - STEM + 6, wide, STEM - 6, "spec-carrier"),
            svg.text(left, label, mark.name, "spec-name", "middle"),
        ]
        parts += self._move(x, self.x(mark.proposed_hz), line)
        return svg.link(mark.href, "".join(parts), mark.name)

    def _move(self, x: float, away: float, line: float) -> list[str]:
        """An arrow to where a carrier would go, as far as the panel reaches, and the carrier there."""
        if abs(away - x) < 1:
            return []
        tip, middle = min(max(away, EDGE), self.end), line - STEM / 2
        point = -4 if away > x else 4
        arrow = f"M{svg.num(x)} {svg.num(middle)}H{svg.num(tip)}l{point} -3m{-point} 3l{point} 3"
        stem = f"M{svg.num(away)} {svg.num(line)}V{svg.num(line - STEM + 6)}"
        return [svg.path(stem, "spec-proposed")] * (tip == away) + [svg.path(arrow, "spec-move")]

    def _scale(self, line: float) -> list[str]:
        step = _step(self.widest_hz)
        first = math.ceil(self.stretch.low_hz / step - 1e-9)
        last = math.floor(self.stretch.high_hz / step + 1e-9)
        out, y = [], line + 20
        out.append(svg.path("".join(f"M{self.x(i * step):.1f} {svg.num(y)}v6" for i in range(first, last + 1)),
                            "spec-line"))  # fmt: skip
        for i in range(first, last + 1):
            words = f"{i * step / 1e6:g}" + (" MHz" if i == first else "")
            out.append(svg.text(self.x(i * step), y + 20, words, "spec-number", "middle" if i > first else "start"))
        return out


def _lanes(labels: list[tuple[float, str]]) -> list[int]:
    """A lane for each label, from the left, so that none meets another."""
    ends: list[float] = []
    out = []
    for x, words in labels:
        half = LETTER * len(words) / 2 + 4
        lane = next((i for i, end in enumerate(ends) if end <= x - half), len(ends))
        ends[lane : lane + 1] = [x + half]
        out.append(lane)
    # the first label of a crowd stands highest, so that no lead crosses a name
    deepest = max(out, default=0)
    return [deepest - lane for lane in out]


def _step(span_hz: float) -> float:
    """A round step for a scale: 1, 2 or 5 times a power of ten."""
    rough = span_hz / MOST_MARKS
    power: float = 10.0 ** math.floor(math.log10(rough))
    return next((m * power for m in (1, 2, 5) if m * power >= rough), 10 * power)
