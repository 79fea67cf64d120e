"""How two ways add: the level of each and of their sum over frequency, told apart by their strokes."""

from __future__ import annotations

from math import log10

from rigbook.compute.crossovers import PLOT_FROM_HZ, PLOT_TO_HZ, Crossover
from rigbook.handbook.drawings import svg
from rigbook.handbook.tongue import Tongue

WIDE, HIGH = 400.0, 250.0
LEFT, RIGHT, TOP, BOTTOM = 34.0, 16.0, 26.0, 34.0
LOW_DB, HIGH_DB, STEP_DB = -30, 10, 10
LABELLED_HZ = (20, 50, 100, 200, 500, 1000)
RULED_HZ = (*range(20, 100, 10), *range(100, 1001, 100))


def x_of(hz: float) -> float:
    """Sheet position of a frequency, px: equal steps for equal ratios."""
    return LEFT + (WIDE - LEFT - RIGHT) * log10(hz / PLOT_FROM_HZ) / log10(PLOT_TO_HZ / PLOT_FROM_HZ)


def y_of(db: float) -> float:
    """Sheet position of a level, px."""
    return TOP + (HIGH - TOP - BOTTOM) * (HIGH_DB - db) / (HIGH_DB - LOW_DB)


def draw(pair: Crossover, ident: str, tongue: Tongue) -> str:
    """The plot of a pair."""
    title = tongue.say("%(upper)s over %(lower)s", upper=pair.upper.box, lower=pair.lower.box)
    described = tongue.say(
        "Level of each way and of their sum from %(low)s to %(high)s Hz; the figures stand in the table beside it.",
        low=PLOT_FROM_HZ,
        high=PLOT_TO_HZ,
    )
    around = [min(max(hz, PLOT_FROM_HZ), PLOT_TO_HZ) for hz in (pair.middle_hz / 2, pair.middle_hz * 2)]
    x1, x2 = map(x_of, around)
    frame = svg.rect(LEFT, TOP, WIDE - LEFT - RIGHT, HIGH - TOP - BOTTOM, "")
    octave = svg.rect(x1, TOP, x2 - x1, HIGH - TOP - BOTTOM, "octave")
    body = [f'<clipPath id="{ident}-clip">{frame}</clipPath>', octave, *_grid(tongue)]
    body.append(f'<g clip-path="url(#{ident}-clip)">')
    for column, css in ((1, "way lower"), (2, "way upper"), (3, "way sum")):
        # a little beyond the plot the line may end: nothing is seen there
        points = [(x_of(row[0]), y_of(max(row[column], LOW_DB - STEP_DB))) for row in pair.curve]
        body.append(svg.path("M" + "L".join(f"{svg.num(x)} {svg.num(y)}" for x, y in points), css))
    body += ["</g>", *_key(pair, tongue)]
    return svg.sheet(ident, WIDE, HIGH, title, described, body)


def _grid(tongue: Tongue) -> list[str]:
    out = []
    for hz in RULED_HZ:
        x = svg.num(x_of(hz))
        out.append(svg.path(f"M{x} {svg.num(TOP)}V{svg.num(HIGH - BOTTOM)}", "grid"))
    out += [svg.text(x_of(hz), HIGH - BOTTOM + 14, str(hz), "axis", "middle") for hz in LABELLED_HZ]
    for db in range(LOW_DB, HIGH_DB + 1, STEP_DB):
        line = f"M{svg.num(LEFT)} {svg.num(y_of(db))}H{svg.num(WIDE - RIGHT)}"
        out.append(svg.path(line, "floor" if not db else "grid"))
        out.append(svg.text(LEFT - 4, y_of(db) + 4, str(db).replace("-", "−"), "axis", "end"))
    out.append(svg.text(WIDE - RIGHT, HIGH - 6, tongue.say("frequency in Hz; level in dB"), "axis", "end"))
    return out


def _key(pair: Crossover, tongue: Tongue) -> list[str]:
    out, x = [], LEFT
    for css, words in (("lower", pair.lower.box), ("upper", pair.upper.box), ("sum", tongue.say("sum"))):
        out.append(svg.path(f"M{svg.num(x)} 13h24", f"way {css}"))
        out.append(svg.text(x + 28, 17, words, "axis"))
        x += 28 + len(words) * 5.9 + 14
    return out
