"""Text to `Quantity`: `18 m`, `-6 dB`, `2.5 mm2`, `12 AWG`, `60 Hz - 18 kHz`."""

from __future__ import annotations

import math
import re
from collections.abc import Iterable
from dataclasses import dataclass

from rigbook.units.dimension import DIMENSIONS, SPELLINGS, Dimension, Unit
from rigbook.units.quantity import Quantity


@dataclass(frozen=True, slots=True)
class Problem:
    """What is wrong with a text: the fact, what to write, and which part (0-based, in characters of the text)."""

    message: str
    remedy: str
    start: int
    length: int


GREATEST = 1e12
"""Amounts beyond this, in the base unit, are slips of the finger."""

_NUMBER = re.compile(r"[-+\u2212]?(?:\d+(?:\.\d*)?|\.\d+)")
_GAUGE = re.compile(r"(?:AWG\s*(?P<a>\d+(?:/0)?)|(?P<b>\d+(?:/0)?)\s*AWG)", re.IGNORECASE)
_BETWEEN = re.compile(
    r"\s+(?:-|to)\s+|\s*[\u2013\u2014]\s*|(?<=[A-Za-z0-9)%\u00b0\u00b2\u00b3])-(?=[.\d])", re.IGNORECASE
)


def parse(text: str, dimension: str) -> Quantity | Problem:
    """Read an amount with its unit. The blank between them may be left out.

    Args:
        text: as typed.
        dimension: a key of `DIMENSIONS`.
    """
    kind = DIMENSIONS[dimension]
    typed = text.strip()
    start = text.find(typed)
    if dimension == "area":
        gauge = _GAUGE.fullmatch(typed)
        if gauge:
            return _awg(gauge["a"] or gauge["b"], typed, start)
    m = _NUMBER.match(typed)
    if not m:
        return _no_number(typed, kind, start)
    amount, rest = m.group().replace("\u2212", "-"), typed[m.end() :].strip()
    odd = _odd_number(typed, amount, rest, kind, start)
    if odd:
        return odd
    if not rest:
        fix = " or ".join(f"`{amount} {u}`" for u in kind.offer)
        return Problem(f"`{typed}` has no unit", f"write {fix}", start, len(typed))
    unit = _unit(rest, kind)
    if unit is None:
        return _wrong_unit(typed, amount, rest, kind, start)
    value = unit.to_base(float(amount))
    wrong = _range(typed, value, kind, start)
    return wrong or Quantity(value, unit.symbol, dimension, typed, amount)


def parse_range(text: str, dimension: str) -> tuple[Quantity, Quantity] | Problem:
    """Read two amounts, lower first: `60 Hz - 18 kHz`, `60 Hz to 18 kHz`, `60-120 Hz`."""
    parts = list(_BETWEEN.finditer(text))
    if len(parts) != 1:
        u = DIMENSIONS[dimension].offer
        fix = f"write the lower and the upper one: `1 {u[0]} - 20 {u[0]}`"
        return Problem(f"`{text.strip()}` is not a range of two amounts", fix, 0, len(text))
    low_text, high_text, offset = text[: parts[0].start()], text[parts[0].end() :], parts[0].end()
    high = parse(high_text, dimension)
    if isinstance(high, Problem):
        return Problem(high.message, high.remedy, offset + high.start, high.length)
    if _NUMBER.fullmatch(low_text.strip()):
        low_text += f" {high.unit}"
    low = parse(low_text, dimension)
    if isinstance(low, Problem):
        return low
    if low.value > high.value:
        fix = f"write `{high} - {low}`"
        return Problem(f"`{low}` is more than `{high}`", fix, 0, len(text))
    return low, high


def parse_list(text: str, dimension: str) -> tuple[Quantity, ...] | Problem:
    """Read amounts separated by commas: `8 ohm, 4 ohm`."""
    out: list[Quantity] = []
    offset = 0
    for piece in text.split(","):
        got = parse(piece, dimension)
        if isinstance(got, Problem):
            return Problem(got.message, got.remedy, offset + got.start, got.length)
        out.append(got)
        offset += len(piece) + 1
    return tuple(out)


def awg_area_mm2(gauge: int) -> float:
    """Conductor area of a gauge number in mm2; 1/0 is 0, 4/0 is -3.

    Source: ASTM B258-18, section 4: the diameter is 0.005 in x 92 to the power (36 - n) / 39, n from -3 to 36; finer
    gauges follow the same rule.
    """
    diameter = 0.127 * 92 ** ((36 - gauge) / 39)
    return math.pi / 4 * diameter * diameter


def _awg(number: str, typed: str, start: int) -> Quantity | Problem:
    gauge = 1 - int(number[:-2]) if number.endswith("/0") else int(number)
    if not -3 <= gauge <= 40:
        return Problem(f"`{typed}` is no wire gauge", "write a gauge from `4/0 AWG` to `40 AWG`", start, len(typed))
    return Quantity(awg_area_mm2(gauge) / 1e6, "AWG", "area", typed, number)


def _unit(word: str, kind: Dimension) -> Unit | None:
    for unit, name in SPELLINGS.get(" ".join(word.split()), ()):
        if name == kind.name and unit.symbol != "AWG":
            return unit
    return None


def _no_number(typed: str, kind: Dimension, start: int) -> Problem:
    fix = f"write {kind.phrase} such as " + " or ".join(f"`12 {u}`" for u in kind.offer)
    if not typed:
        return Problem("the amount is missing", fix, start, 0)
    return Problem(f"`{typed}` does not begin with a number", fix, start, len(typed))


def _odd_number(typed: str, amount: str, rest: str, kind: Dimension, start: int) -> Problem | None:
    m = re.match(r",(\d+)\s*(.*)", rest)
    if m:
        unit = m.group(2) or kind.offer[0]
        fix = f"write `{amount}.{m.group(1)} {unit}`"
        if len(m.group(1)) == 3:
            fix += f" or `{amount}{m.group(1)} {unit}`"
        return Problem(f"`{typed}` has a comma in its number", fix, start + len(amount), 1)
    return None


def _wrong_unit(typed: str, amount: str, rest: str, kind: Dimension, start: int) -> Problem:
    at = start + len(typed) - len(rest)
    known = SPELLINGS.get(" ".join(rest.split()))
    if known:
        other = DIMENSIONS[known[0][1]].phrase
        fix = f"write {kind.phrase} such as " + " or ".join(f"`{amount} {u}`" for u in kind.offer)
        return Problem(f"`{typed}` is {other}, {kind.phrase} belongs here", fix, at, len(rest))
    close = _near(rest, (u.symbol for u in kind.units))
    fix = f"write `{amount} {close}`" if close else "write one of " + ", ".join(f"`{u.symbol}`" for u in kind.units)
    return Problem(f"the unit `{rest}` is not known", fix, at, len(rest))


def _near(word: str, symbols: Iterable[str]) -> str:
    return next((s for s in symbols if s.casefold() == word.casefold()), "")


def _range(typed: str, value: float, kind: Dimension, start: int) -> Problem | None:
    if not math.isfinite(value) or abs(value) > GREATEST:
        return Problem(f"`{typed}` is too large", "write a smaller amount", start, len(typed))
    if value < kind.least:
        return Problem(f"{kind.phrase} is never below zero, `{typed}` is", "leave out the minus", start, len(typed))
    return None
