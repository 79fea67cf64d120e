"""Formats on paper: `70 x 37 mm`, `A4`; and the address of a published handbook."""

from __future__ import annotations

import re
from types import MappingProxyType

from rigbook.findings.place import Span
from rigbook.language.reading import Parsed
from rigbook.records import frozen
from rigbook.text.phrase import phrase
from rigbook.units.parse import Problem, parse
from rigbook.units.pattern import amount_pattern
from rigbook.units.quantity import Quantity


@frozen
class Format:
    """Width and height in millimetres."""

    width: float
    height: float
    text: str


SHEETS = MappingProxyType({"a4": (210.0, 297.0), "a5": (148.0, 210.0), "a3": (297.0, 420.0), "letter": (215.9, 279.4)})
"""ISO 216:2007 and, for Letter, ANSI/ASME Y14.1 (8.5 x 11 inch), in mm."""


def format_of(text: str, span: Span) -> Format | Problem:
    """`70 x 37 mm`: width x height."""
    m = re.fullmatch(r"([0-9][0-9.]*)\s*(?:[a-z]+\s*)?[x×]\s*([0-9][0-9.]*)\s*([a-z]+)", text.strip())
    if not m:
        return Problem(
            phrase("`%(value)s` is no format", value=text), phrase("write width x height: `70 x 37 mm`"), 0, len(text)
        )
    sides = []
    for number in m.groups()[:2]:
        got = parse(f"{number} {m.group(3)}", "length")
        if not isinstance(got, Quantity):
            return Problem(got.message, got.remedy, 0, len(text))
        sides.append(got.value * 1000)
    return Format(sides[0], sides[1], text)


def label_size(text: str, span: Span) -> Format | Problem:
    """The size of a label: a format of 5 mm or more each way."""
    got = format_of(text, span)
    if isinstance(got, Format) and min(got.width, got.height) < 5:
        return Problem(
            phrase("`%(value)s` is no label that can be read", value=text),
            phrase("write its size: `70 x 37 mm`"),
            0,
            len(text),
        )
    return got


def sheet(text: str, span: Span) -> Format | Problem:
    """`A4`, `Letter`, or a format."""
    known = SHEETS.get(text.strip().lower())
    got = Format(*known, text) if known else format_of(text, span)
    if isinstance(got, Problem):
        return Problem(got.message, phrase("write `A4`, `Letter`, or width x height: `210 x 297 mm`"), 0, len(text))
    if not (50 <= got.width <= 1200 and 50 <= got.height <= 1200):
        return Problem(
            phrase("`%(value)s` is no sheet", value=text),
            phrase("write `A4`, `Letter`, or width x height: `210 x 297 mm`"),
            0,
            len(text),
        )
    return got


_ADDRESS = r"https?://[^\s/?#\"<>]+(?:/[^\s?#\"<>]*)?"


def address(text: str, span: Span) -> str | Problem:
    """An address of the web, without the slash at its end."""
    if re.fullmatch(_ADDRESS, text):
        return text.rstrip("/")
    return Problem(
        phrase("`%(value)s` is no address", value=text),
        phrase("write the whole of it: `https://example.org/hall`"),
        0,
        len(text),
    )


_NUMBER = r"[0-9]+(?:\.[0-9]*)?"
_FORMAT = rf"{_NUMBER}\s*(?:[a-z]+\s*)?[x×]\s*{amount_pattern('length')}"
_SHEET = "|".join("".join(f"[{c.upper()}{c}]" if c.isalpha() else c for c in name) for name in SHEETS)
FORMAT = Parsed(phrase("a format such as `70 x 37 mm`"), format_of, rf"^\s*{_FORMAT}\s*$", name="format")
LABEL = Parsed(phrase("a size such as `70 x 37 mm`"), label_size, rf"^\s*{_FORMAT}\s*$")
SHEET = Parsed(
    phrase("`A4`, `Letter` or a format such as `210 x 297 mm`"), sheet, rf"^\s*(?:{_SHEET}|{_FORMAT})\s*$"
)
ADDRESS = Parsed(phrase("an address such as `https://example.org/hall`"), address, f"^{_ADDRESS}$")
