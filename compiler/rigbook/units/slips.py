"""What people type for an amount and mean another: foot marks, comma decimals, units written out."""

from __future__ import annotations

import re

from rigbook.units.dimension import Dimension
from rigbook.units.told import either, told

# (as typed, in small letters, without a plural s; the unit that is meant)
_WORDS = (
    ("metre", "m"), ("meter", "m"), ("mtr", "m"), ("millimetre", "mm"), ("millimeter", "mm"), ("centimetre", "cm"),
    ("centimeter", "cm"), ("kilometre", "km"), ("kilometer", "km"), ("feet", "ft"), ("foot", "ft"), ("'", "ft"),
    ("inch", "in"), ("inche", "in"), ('"', "in"), ("''", "in"), ("kilo", "kg"), ("kgm", "kg"), ("kilogram", "kg"),
    ("gram", "g"), ("pound", "lb"), ("hertz", "Hz"), ("kilohertz", "kHz"), ("megahertz", "MHz"), ("k", "kHz"),
    ("second", "s"), ("sec", "s"), ("millisecond", "ms"), ("msec", "ms"), ("minute", "min"), ("hour", "h"),
    ("hr", "h"), ("r", "ohm"), ("watt", "W"), ("kilowatt", "kW"), ("volt", "V"), ("millivolt", "mV"), ("amp", "A"),
    ("ampere", "A"), ("decibel", "dB"), ("mm2", "mm2"), ("mmq", "mm2"), ("sq mm", "mm2"), ("square mm", "mm2"),
    ("celsiu", "degC"), ("deg c", "degC"), ("fahrenheit", "degF"), ("deg f", "degF"), ("db/octave", "dB/oct"),
    ("db per oct", "dB/oct"), ("db", "dB/oct"), ("unit", "U"), ("he", "U"), ("hu", "U"), ("cubic metre", "m3"),
    ("m²", "m3"),
)  # fmt: skip


def meant_unit(word: str, kind: Dimension) -> str:
    """The unit of this kind that an unknown word was probably meant for; empty where none is."""
    small = " ".join(word.casefold().split())
    for unit in kind.units:
        if small in (s.casefold() for s in (unit.symbol, *unit.also)):
            return unit.symbol
    symbols = [unit.symbol for unit in kind.units]
    stems = (small, small.rstrip("s."))
    return next((unit for typed, unit in _WORDS if typed in stems and unit in symbols), "")


def likely_unit(word: str, kind: Dimension) -> str:
    """The word where it is a unit of this kind; else the one that was meant, or the usual one."""
    if any(word in (unit.symbol, *unit.also) for unit in kind.units):
        return word
    return meant_unit(word, kind) or kind.offer[0]


def meant_amount(typed: str, kind: Dimension, shown: str) -> tuple[str, str] | None:
    """Of a number that is written in another manner: what is odd about it, and what to write; `shown` is it
    as said.
    """
    m = re.fullmatch(r"([-+]?[0-9]+),([0-9]+)\s*(.*)", typed)
    if m:
        unit = likely_unit(m.group(3), kind)
        fixes = [f"`{m.group(1)}.{m.group(2)} {unit}`"]
        if len(m.group(2)) == 3:
            fixes.append(f"`{m.group(1)}{m.group(2)} {unit}`")
        return told("%(text)s has a comma in its number", text=shown), either(fixes)
    m = re.fullmatch(r"([-+]?[0-9]{1,3}(?:[ '\u00a0\u2009][0-9]{3})+)\s*(\D*)", typed)
    if m:
        digits = re.sub(r"[^-+0-9]", "", m.group(1))
        return told("%(text)s has a gap in its number", text=shown), f"`{digits} {likely_unit(m.group(2), kind)}`"
    m = re.fullmatch(r"([0-9]{1,4})\s*'\s*([0-9.]{1,4})\s*(?:\"|''|in)?", typed)
    if m and kind.name == "length" and m.group(2).count(".") < 2 and m.group(2) != ".":
        return told(
            "%(text)s is written in feet and inches", text=shown
        ), f"`{int(m.group(1)) + float(m.group(2)) / 12:.4g} ft`"
    m = re.fullmatch(r"([0-9]{1,4})\s*/\s*([1-9][0-9]{0,3})\s*(.*)", typed)
    if m:
        unit = likely_unit(m.group(3), kind)
        return told(
            "%(text)s is written as a fraction", text=shown
        ), f"`{int(m.group(1)) / int(m.group(2)):.4g} {unit}`"
    m = re.fullmatch(r"([-+]?[0-9.]+)[eE]([-+]?[0-9]+)\s*(.*)", typed)
    if m:
        return told("%(text)s is written with an exponent", text=shown), told(
            "the number in full, such as `%(example)s`", example=f"1800 {likely_unit(m.group(3), kind)}"
        )
    if re.match(r"[-+]?[0-9.]+\.[0-9]", typed) and typed.split()[0].count(".") > 1:
        return told("%(text)s has two points in its number", text=shown), told(
            "one number, such as `%(example)s`", example=f"2.5 {kind.offer[0]}"
        )
    return None
