"""Where things stand and how they point: `4 m left, 1 m out, 2.4 m up`; `10 deg right`; `8 deg down`.

The origin is the middle of the front edge of the stage, at floor level of the audience. `left` and `right` are
house left and house right (as seen from the audience), `out` is towards the audience, `back` is upstage.
"""

from __future__ import annotations

import re
from types import MappingProxyType
from typing import Final

from rigbook.findings.place import Span
from rigbook.language.cuts import with_points
from rigbook.language.reading import Parsed
from rigbook.language.values.names import NAME
from rigbook.records import frozen
from rigbook.text.phrase import joined, phrase, typed
from rigbook.units.parse import Problem, clip, parse
from rigbook.units.pattern import amount_pattern
from rigbook.units.quantity import Amount

DIRECTIONS = MappingProxyType(
    {
        "left": ("x", -1),
        "right": ("x", 1),
        "out": ("y", 1),
        "back": ("y", -1),
        "up": ("z", 1),
        "down": ("z", -1),
    }
)
WORDS = MappingProxyType(
    {
        "left": phrase("%(length)s left"),
        "right": phrase("%(length)s right"),
        "out": phrase("%(length)s out"),
        "back": phrase("%(length)s back"),
        "up": phrase("%(length)s up"),
        "down": phrase("%(length)s down"),
    }
)
TURNED = MappingProxyType(
    {
        "left": phrase("%(angle)s left"),
        "right": phrase("%(angle)s right"),
        "up": phrase("%(angle)s up"),
        "down": phrase("%(angle)s down"),
    }
)
ZERO = MappingProxyType({"out": phrase("out"), "back": phrase("back"), "level": phrase("level")})
EXAMPLE = "`4 m left, 1 m out, 2.4 m up`"


@frozen
class Position:
    """A point in metres: x to house right, y out towards the audience, z up. Or the name of a place."""

    x: float
    y: float
    z: float
    place: str
    """Name of the place it is taken from, where one was typed (`foh`); empty for a point."""
    text: str
    """As printed: commas between the distances, also where they were left out."""


UPRIGHT: Final = 90.0
"""Degrees; what is tilted further is turned around as well, which its aim says."""


@frozen
class Turn:
    """An aim or a tilt in degrees. Aim: 0 straight out, + to house right, 180 upstage. Tilt: + up, - down."""

    degrees: float
    target: str
    """Name of the place, unit or channel aimed at (`at fiddle`); empty for an angle."""
    text: str


def position(text: str, span: Span) -> Position | Problem:
    """Distances with directions, with or without commas between them; or one name of a place."""
    if re.fullmatch(NAME, text) and not text[0].isdecimal():
        return Position(0.0, 0.0, 0.0, text, text)
    pointed = with_points(text)
    if pointed is not None:
        return Problem(
            phrase("%(value)s has a comma in its number", value=clip(text)),
            phrase("write `%(line)s`", line=pointed),
            0,
            len(text),
        )
    got = {"x": 0.0, "y": 0.0, "z": 0.0}
    seen: set[str] = set()
    parts: list[str] = []
    # commas may be left out: inside `{…}` an unquoted comma would begin another key
    for m in re.finditer(rf"[^,\s][^,]*?(?:\s(?:{'|'.join(DIRECTIONS)})\b|(?=,|\s*$))", text):
        raw, start = m.group().strip(), m.start()
        amount, _, word = raw.rpartition(" ")
        if word not in DIRECTIONS or not amount:
            fix = phrase("write distances with `left`, `right`, `out`, `back`, `up`: %(example)s", example=EXAMPLE)
            return Problem(phrase("`%(value)s` gives no direction", value=raw), fix, start, len(raw))
        axis, sign = DIRECTIONS[word]
        if axis in seen:
            return Problem(
                phrase("`%(value)s` gives that direction a second time", value=raw),
                phrase("write %(example)s", example=EXAMPLE),
                start,
                len(raw),
            )
        length = parse(amount, "length")
        if isinstance(length, Problem):
            return Problem(length.message, length.remedy, start + length.start, length.length)
        seen.add(axis)
        got[axis] = sign * length.value
        parts.append(phrase(WORDS[word], length=length.page()))
    if not parts:
        return Problem(phrase("a place is missing here"), phrase("write %(example)s", example=EXAMPLE), 0, 0)
    return Position(got["x"], got["y"], got["z"], "", joined(parts))


def _angle(text: str, words: dict[str, int], zero: dict[str, float], example: str) -> Turn | Problem:
    if text in zero:
        return Turn(zero[text], "", ZERO[text])
    amount, _, word = text.rpartition(" ")
    if word not in words:
        return Problem(
            phrase("`%(value)s` gives no direction to turn", value=text),
            phrase("write it as %(example)s", example=example),
            0,
            len(text),
        )
    got = parse(amount, "angle")
    if isinstance(got, Problem):
        return got
    said = phrase(TURNED[word], angle=Amount(got.amount or str(got.value), "°"))
    return Turn(words[word] * got.value, "", said)


def aim(text: str, span: Span) -> Turn | Problem:
    """An angle with a side, `out`, `back`, or `at NAME`."""
    m = re.fullmatch(rf"at ({NAME})", text)
    if m:
        return Turn(0.0, m.group(1), typed(text, (phrase("at %(place)s", place=m.group(1)),)))
    return _angle(
        text, {"left": -1, "right": 1}, {"out": 0.0, "back": 180.0}, phrase("`10 deg right`, `back` or `at fiddle`")
    )


def tilt(text: str, span: Span) -> Turn | Problem:
    """An angle with `up` or `down`, or `level`."""
    got = _angle(text, {"down": -1, "up": 1}, {"level": 0.0}, "`8 deg down`")
    if isinstance(got, Turn) and abs(got.degrees) > UPRIGHT:
        message = phrase("%(value)s is more than straight up or down", value=clip(text))
        return Problem(message, phrase("write it as %(example)s", example="`8 deg down`"), 0, len(text))
    return got


def _once(*words: str) -> str:
    """Not two of these words."""
    either = "|".join(words)
    return rf"(?!.*\s(?:{either})\b.*\s(?:{either})\b)"


_TWICE = _once("left", "right") + _once("out", "back") + _once("up", "down")
_PART = rf"{amount_pattern('length')}\s+(?:{'|'.join(DIRECTIONS)})\b[,\s]*"
_ANGLE = rf"\s*{amount_pattern('angle')}\s+"
_PLACE = phrase("a place such as `4 m left, 1 m out, 2.4 m up`")
POSITION = Parsed(_PLACE, position, rf"^(?:(?![0-9]){NAME}|{_TWICE}[,\s]*(?:{_PART})+)$", bare=True, name="position")
AIM = Parsed(
    phrase("an aim such as `10 deg right`"), aim, rf"^(?:at {NAME}|out|back|{_ANGLE}(?:left|right))$"
)
TILT = Parsed(phrase("a tilt such as `8 deg down`"), tilt, rf"^(?:level|{_ANGLE}(?:up|down))$")
