"""Colours of a theme and the contrast of two of them."""

from __future__ import annotations

import re
from typing import Final, NamedTuple

NAMED: Final = (("white", "#ffffff"), ("black", "#000000"))


class Colour(NamedTuple):
    """A colour of sRGB, each part from 0 to 255."""

    red: int
    green: int
    blue: int


def parse_colour(text: str) -> Colour | None:
    """A colour as a theme writes it: `#a9c`, `#aa99cc`, `rgb(170 153 204)`; None for anything else.

    See-through colours are none: what they look like hangs on what lies behind.
    """
    said = dict(NAMED).get(text.strip().lower(), text.strip().lower())
    if re.fullmatch(r"#[0-9a-f]{3}", said):
        said = "#" + "".join(c * 2 for c in said[1:])
    if re.fullmatch(r"#[0-9a-f]{6}", said):
        return Colour(int(said[1:3], 16), int(said[3:5], 16), int(said[5:7], 16))
    found = re.fullmatch(r"rgb\(\s*(\d{1,3})[\s,]+(\d{1,3})[\s,]+(\d{1,3})\s*\)", said)
    parts = [int(p) for p in found.groups()] if found else []
    return Colour(*parts) if parts and max(parts) <= 255 else None


def luminance(colour: Colour) -> float:
    """Relative luminance, from 0 (black) to 1 (white).

    Source: WCAG 2.2, definition of "relative luminance", with the threshold 0.04045 of IEC 61966-2-1 (the erratum of
    2021; between 0.03928, which stood there before, and it lies no colour of 8 bits).
    """
    r, g, b = (c / 255 / 12.92 if c / 255 <= 0.04045 else ((c / 255 + 0.055) / 1.055) ** 2.4 for c in colour)
    return 0.2126 * r + 0.7152 * g + 0.0722 * b


def contrast(one: Colour, other: Colour) -> float:
    """Contrast ratio, from 1 to 21. Source: WCAG 2.2, definition of "contrast ratio"."""
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)
