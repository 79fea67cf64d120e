"""Pairs and triples of amounts (`90 x 60 deg`, `0.4 x 0.35 x 0.6 m`), tables (`8 ohm: 400 W`), dates and clocks."""

from __future__ import annotations

import calendar
import datetime
import re

from rigbook.findings.place import Span
from rigbook.language.cuts import with_points
from rigbook.language.reading import Naming, Parsed, Reading, Schema, matching, problem, wrong_shape
from rigbook.language.values.words import Number
from rigbook.records import frozen
from rigbook.text.phrase import either, phrase
from rigbook.text.tree import Broken, Mapping, Node, Scalar
from rigbook.units.parse import Problem, clip, parse
from rigbook.units.pattern import NUMBER, amount_pattern
from rigbook.units.quantity import Quantity


def _comma(text: str) -> Problem | None:
    """What is wrong with a text in which a number has a comma for its point."""
    pointed = with_points(text)
    if pointed is None:
        return None
    return Problem(
        phrase("%(value)s has a comma in its number", value=clip(text)),
        phrase("write `%(line)s`", line=pointed),
        0,
        len(text),
    )


@frozen
class Coverage:
    """Nominal coverage in degrees, horizontal and vertical, between the -6 dB directions."""

    horizontal: float
    vertical: float
    text: str


def coverage(text: str, span: Span) -> Coverage | Problem:
    """`90 x 60 deg`."""
    m = re.fullmatch(rf"({NUMBER})\s*(?:deg|°)?\s*[x×]\s*({NUMBER})\s*(?:deg|°)", text.strip())
    if not m:
        fix = phrase("write horizontal x vertical: `90 x 60 deg`")
        return _comma(text) or Problem(phrase("`%(value)s` is no coverage", value=text), fix, 0, len(text))
    h, v = float(m.group(1)), float(m.group(2))
    if not (0 < h <= 360 and 0 < v <= 360):
        return Problem(
            phrase("`%(value)s` lies outside 0 to 360 degrees", value=text),
            phrase("write angles such as `90 x 60 deg`"),
            0,
            len(text),
        )
    return Coverage(h, v, text)


@frozen
class Size:
    """Width, depth and height in metres."""

    width: float
    depth: float
    height: float
    text: str


def size(text: str, span: Span) -> Size | Problem:
    """`0.4 x 0.35 x 0.6 m`: width x depth x height."""
    m = re.fullmatch(rf"({NUMBER})\s*[x×]\s*({NUMBER})\s*[x×]\s*({NUMBER})\s*(\S+)", text.strip())
    if not m:
        fix = phrase("write width x depth x height: `0.4 x 0.35 x 0.6 m`")
        return _comma(text) or Problem(phrase("`%(value)s` is no size", value=text), fix, 0, len(text))
    got = [parse(f"{n} {m.group(4)}", "length") for n in m.groups()[:3]]
    for g in got:
        if isinstance(g, Problem):
            return Problem(g.message, g.remedy, 0, len(text))
    w, d, h = (g.value for g in got if isinstance(g, Quantity))
    return Size(w, d, h, text)


@frozen
class Counted:
    """So many pieces of a length."""

    count: int
    length: Quantity
    text: str


def joined(text: str, span: Span) -> int | Problem:
    """How many pieces of cable may be plugged together: 1, 2 or 3."""
    if text in ("1", "2", "3"):
        return int(text)
    return Problem(
        phrase("`%(value)s` is no number of pieces to join", value=text), phrase("write `1`, `2` or `3`"), 0, len(text)
    )


def power_factor(text: str, span: Span) -> float | Problem:
    """Active over apparent power: above 0, up to 1."""
    got = float(text) if re.fullmatch(r"[0-9]*\.?[0-9]+", text.strip()) else 0.0
    if 0 < got <= 1:
        return got
    said = phrase("`%(value)s` is no power factor", value=text)
    return _comma(text) or Problem(said, phrase("write a number above 0 and up to 1: `0.9`"), 0, len(text))


def counted(text: str, span: Span) -> Counted | Problem:
    """`6 x 10 m`; a length alone is one piece."""
    m = re.fullmatch(r"(?:([0-9]{1,5})\s*[x×]\s*)?([^x×]+)", text.strip())
    if not m:
        return Problem(
            phrase("`%(value)s` is no count of a length", value=text),
            phrase("write count x length: `6 x 10 m`"),
            0,
            len(text),
        )
    got = parse(m.group(2), "length")
    if isinstance(got, Problem):
        return Problem(got.message, got.remedy, m.start(2) + got.start, got.length)
    return Counted(int(m.group(1) or 1), got, text)


@frozen
class Table:
    """Amounts against amounts: `{8 ohm: 400 W, 4 ohm: 650 W}`. The value is a tuple of pairs, sorted."""

    left: str
    right: str
    example: str

    @property
    def words(self) -> str:
        return phrase("a table such as `%(example)s`", example=self.example)

    def read(self, node: Node, reading: Reading) -> object:
        if not isinstance(node, Mapping) or not node.items:
            return wrong_shape(node, self.words, reading)
        rows: list[tuple[Quantity, Quantity]] = []
        for name, value in node.items.items():
            a = parse(name, self.left)
            if isinstance(a, Problem):
                reading.fault("wrong-unit", node.keys[name], a.message, a.remedy)
                continue
            if not isinstance(value, Scalar):
                return wrong_shape(value, self.words, reading)
            b = parse(value.text, self.right)
            if isinstance(b, Problem):
                problem(b, value, reading, "wrong-unit")
                continue
            rows.append((a, b))
        return tuple(sorted(rows, key=lambda r: r[0].value)) if rows else Broken(node.span)

    def schema(self) -> Schema:
        left, right = (matching(rf"^\s*{amount_pattern(d)}\s*$", self.words) for d in (self.left, self.right))
        return {"type": "object", "propertyNames": left, "additionalProperties": right, "minProperties": 1}


def date(text: str, span: Span) -> datetime.date | Problem:
    """ISO 8601 calendar date."""
    try:
        return datetime.date.fromisoformat(text) if re.fullmatch("[0-9]{4}-[0-9]{2}-[0-9]{2}", text) else _no_date(text)
    except ValueError:
        return _no_date(text)


def _no_date(text: str) -> Problem:
    return Problem(
        phrase("`%(value)s` is no date", value=text), phrase("write %(names)s", names=_as_date(text)), 0, len(text)
    )


def _as_date(text: str) -> str:
    """A date typed another way, as it is written here; both where day and month may have changed places."""
    m = re.fullmatch(r"([0-9]{1,2})[./ -]([0-9]{1,2})[./ -]([0-9]{4})", text.strip())
    if m:
        a, b, year = (int(g) for g in m.groups())
        pairs = ((b, a), (a, b)) if "/" in text and a != b else ((b, a),)
        found = [d for month, day in pairs if (d := _day(year, month, day))]
        if found:
            return either(f"`{d.isoformat()}`" for d in found)
    m = re.fullmatch("([0-9]{4})-([0-9]{2})-[0-9]{2}", text)
    if m and int(m[1]) and 1 <= int(m[2]) <= 12:
        days = calendar.monthrange(int(m[1]), int(m[2]))[1]
        return phrase("a day from 1 to %(days)s: `%(month)s` has no more", days=days, month=text[:7])
    return phrase("year-month-day: `2027-02-06`")


def _day(year: int, month: int, day: int) -> datetime.date | None:
    try:
        return datetime.date(year, month, day)
    except ValueError:
        return None


def clock(text: str, span: Span) -> str | Problem:
    """A time of day, 24 hours."""
    m = re.fullmatch(r"([0-9]{1,2}):([0-9][0-9])", text)
    if not m or int(m.group(1)) > 23 or int(m.group(2)) > 59:
        return Problem(
            phrase("`%(value)s` is no time of day", value=text),
            phrase("write %(names)s", names=_as_clock(text)),
            0,
            len(text),
        )
    return f"{int(m.group(1)):02}:{m.group(2)}"


def _as_clock(text: str) -> str:
    """A time typed another way, as it is written here."""
    m = re.fullmatch(r"([0-9]{1,2})(?:[.:h ]{1,2}([0-9][0-9]))?\s*(am|pm|uhr|h)?", text.strip().lower())
    if m and (m.group(2) or m.group(3)):
        hour = int(m.group(1))
        if m.group(3) in ("am", "pm"):
            hour = hour % 12 + (12 if m.group(3) == "pm" else 0)
        if hour < 24 and int(m.group(2) or 0) < 60:
            return f"`{hour:02}:{m.group(2) or '00'}`"
    return phrase("hours and minutes: `18:30`")


def clock_problem(text: str) -> Problem | None:
    """What is wrong with a time used as a key, if anything."""
    got = clock(text, Span("", 0, 0, 0, 0))
    return got if isinstance(got, Problem) else None


_COVERAGE = rf"^\s*{NUMBER}\s*(?:deg|°)?\s*[x×]\s*{NUMBER}\s*(?:deg|°)\s*$"
_SIZE = rf"^\s*(?:{NUMBER}\s*[x×]\s*){{2}}{amount_pattern('length')}\s*$"
_COUNTED = rf"^\s*(?:[0-9]{{1,5}}\s*[x×]\s*)?{amount_pattern('length')}\s*$"
_MONTHS_AND_DAYS = "(?:0[1-9]|1[0-2])-(?:0[1-9]|1[0-9]|2[0-8])|(?:0[13-9]|1[0-2])-(?:29|30)|(?:0[13578]|1[02])-31|02-29"
_POWER_FACTOR = r"^\s*(?:0*\.[0-9]*[1-9][0-9]*|0*1(?:\.0+)?)\s*$"
_CLOCK = "^(?:[01]?[0-9]|2[0-3]):[0-5][0-9]$"
COVERAGE = Parsed(phrase("a coverage such as `90 x 60 deg`"), coverage, _COVERAGE)
SIZE = Parsed(phrase("a size such as `0.4 x 0.35 x 0.6 m`"), size, _SIZE, name="size")
COUNTED = Parsed(phrase("a count and a length such as `6 x 10 m`"), counted, _COUNTED, name="counted-length")
JOINED = Number(phrase("1, 2 or 3"), joined, "^[123]$", least=1, most=3)
DATE = Parsed(phrase("a date such as `2027-02-06`"), date, f"^[0-9]{{4}}-(?:{_MONTHS_AND_DAYS})$", name="date")
CLOCK = Parsed(phrase("a time such as `18:30`"), clock, _CLOCK, name="time-of-day")
TIME = Naming(clock_problem, _CLOCK)
POWER_FACTOR = Number(phrase("a power factor such as `0.9`"), power_factor, _POWER_FACTOR, most=1)
