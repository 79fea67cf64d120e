"""Text to `Quantity`: `18 m`, `-6 dB`, `2.5 mm2`, `12 AWG`, `60 Hz - 18 kHz`."""

from __future__ import annotations

import math
import re
from functools import lru_cache

from rigbook.records import frozen
from rigbook.units.dimension import DIMENSIONS, SPELLINGS, Dimension, Unit
from rigbook.units.gauge import COARSEST, FINEST, gauge_area_mm2, gauge_number
from rigbook.units.quantity import Quantity
from rigbook.units.slips import meant_amount, meant_unit
from rigbook.units.told import either, told


@frozen
class Problem:
    """What is wrong with a text: the fact, what to write, and which part (0-based, in characters of the text)."""

    message: str
    remedy: str
    start: int
    length: int
    instead: object = None
    """What was surely meant: once the problem is told, reading goes on with it."""


GREATEST = 1e12
"""Amounts beyond this, in the base unit, are slips of the finger."""

_NUMBER = re.compile(r"[-+\u2212]?(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)")
_BETWEEN = re.compile(
    r"\s+(?:-|to)\s+|\s*[\u2013\u2014]\s*|(?<=[A-Za-z0-9)%\u00b0\u00b2\u00b3\u03a9\u2126])-(?=\.?[0-9])"
)


# a plan says the same few hundred amounts over and over
@lru_cache(maxsize=4096)
def parse(text: str, dimension: str) -> Quantity | Problem:
    """Read an amount with its unit; the space between them may be left out.

    Args:
        text: as typed; spaces around it do not matter.
        dimension: a key of `DIMENSIONS`.

    Returns:
        the amount, its value in the base unit; or what is wrong with it.
    """
    kind = DIMENSIONS[dimension]
    typed = text.strip()
    start = len(text) - len(text.lstrip())
    gauge = gauge_number(typed) if dimension == "area" else None
    if gauge is not None:
        return _gauge(typed, *gauge, start)
    m = _NUMBER.match(typed)
    if m is None:
        return _no_number(typed, kind, start)
    amount, rest = m.group().replace("\u2212", "-"), typed[m.end() :].lstrip()
    if not rest:
        return Problem(
            told("%(text)s has no unit", text=clip(typed)),
            told("write %(names)s", names=_offer(amount, kind)),
            start,
            len(typed),
        )
    unit = _unit(rest, kind)
    if unit is None:
        return _wrong_unit(typed, amount, rest, kind, start)
    value = unit.to_base(float(amount)) + 0.0  # there is no minus nought
    wrong = _outside(typed, value, kind, start)
    return wrong or Quantity(value, unit.symbol, dimension, typed, amount)


def parse_range(text: str, dimension: str) -> tuple[Quantity, Quantity] | Problem:
    """Read two amounts, the lower first: `60 Hz - 18 kHz`, `60 Hz to 18 kHz`, `60-120 Hz`, also with a dash."""
    between = list(_BETWEEN.finditer(text))
    if len(between) != 1:
        unit = DIMENSIONS[dimension].offer[0]
        fix = f"write the lower and the upper amount: `1 {unit} - 20 {unit}`"
        return Problem(told("%(text)s is not a range of two amounts", text=clip(text.strip())), fix, 0, len(text))
    lower, upper, offset = text[: between[0].start()], text[between[0].end() :], between[0].end()
    high = parse(upper, dimension)
    if isinstance(high, Problem):
        return Problem(high.message, high.remedy, offset + high.start, high.length)
    if _NUMBER.fullmatch(lower.strip()):
        lower = f"{lower} {high.unit}"
    low = parse(lower, dimension)
    if isinstance(low, Problem):
        return low
    if low.value > high.value:
        return Problem(
            told("`%(low)s` is more than `%(high)s`", low=low, high=high),
            told("write `%(line)s`", line=f"{high} - {low}"),
            0,
            len(text),
        )
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


def clip(text: str) -> str:
    """A piece of what was typed, between backticks, cut where it is long."""
    return f"`{text if len(text) <= 40 else text[:39] + '…'}`"


def _gauge(typed: str, amount: str, gauge: int, start: int) -> Quantity | Problem:
    if not COARSEST <= gauge <= FINEST:
        return _no_gauge(typed, start)
    return Quantity(gauge_area_mm2(gauge) / 1e6, "AWG", "area", typed, amount)


def _no_gauge(typed: str, start: int) -> Problem:
    return Problem(
        told("%(text)s is no wire gauge", text=clip(typed)),
        told("write one from `4/0 AWG` to `40 AWG`"),
        start,
        len(typed),
    )


def _unit(word: str, kind: Dimension) -> Unit | None:
    for unit, name in SPELLINGS.get(" ".join(word.split()), ()):
        if name == kind.name and unit.symbol != "AWG":
            return unit
    return None


def _offer(amount: str, kind: Dimension) -> str:
    """The amount with each unit that is likely; wires have no gauge 2.5, so that one becomes another."""
    shown = ((amount if unit != "AWG" or amount.isdecimal() else "12", unit) for unit in kind.offer)
    return either([f"`{number} {unit}`" for number, unit in shown])


def _no_number(typed: str, kind: Dimension, start: int) -> Problem:
    fix = told("write %(what)s such as %(names)s", what=kind.phrase, names=_offer(kind.example, kind))
    if not typed:
        return Problem(told("the amount is missing"), fix, start, 0)
    return Problem(told("%(text)s does not begin with a number", text=clip(typed)), fix, start, len(typed))


def _wrong_unit(typed: str, amount: str, rest: str, kind: Dimension, start: int) -> Problem:
    """Why the text behind the number is no unit of this kind."""
    if kind.name == "area" and rest.upper() == "AWG":
        return _no_gauge(typed, start)
    odd = meant_amount(typed, kind, clip(typed))
    if odd is not None:
        return Problem(odd[0], told("write %(names)s", names=odd[1]), start, len(typed))
    at = start + len(typed) - len(rest)
    known = SPELLINGS.get(" ".join(rest.split()))
    if known is not None:
        other = DIMENSIONS[known[0][1]].phrase
        return Problem(
            told("%(text)s is %(other)s, %(what)s belongs here", text=clip(typed), other=other, what=kind.phrase),
            told("write %(names)s if the number is right", names=_offer(amount, kind)),
            start,
            len(typed),
        )
    meant = meant_unit(rest, kind)
    every = ", ".join(f"`{u.symbol}`" for u in kind.units)
    fix = (
        told("write `%(line)s`", line=f"{amount} {meant}")
        if meant
        else told("write the unit as one of %(names)s", names=every)
        if "," in every
        else told("write %(names)s", names=every)
    )
    return Problem(told("%(text)s is no unit for %(what)s", text=clip(rest), what=kind.phrase), fix, at, len(rest))


def _outside(typed: str, value: float, kind: Dimension, start: int) -> Problem | None:
    if not math.isfinite(value) or abs(value) > GREATEST:
        return Problem(
            told("%(text)s is more than can be meant", text=clip(typed)),
            told("write a smaller amount"),
            start,
            len(typed),
        )
    if value >= kind.least:
        return None
    if kind.least:
        least = f"{kind.least:g} {kind.units[0].symbol}"
        return Problem(
            told("%(text)s lies below %(least)s, where nothing does", text=clip(typed), least=least),
            told("check the number"),
            start,
            len(typed),
        )
    return Problem(
        told("%(text)s is below zero, which %(what)s never is", text=clip(typed), what=kind.phrase),
        told("leave the minus out"),
        start,
        len(typed),
    )
