"""Low-cuts and high-cuts: `100 Hz`, `100 Hz lr 24 dB/oct`, `80 Hz butterworth 18 dB/oct`."""

from __future__ import annotations

import re
from types import MappingProxyType

from rigbook.findings.place import Span
from rigbook.language.reading import Parsed
from rigbook.records import frozen
from rigbook.text.phrase import joined, phrase
from rigbook.units.parse import Problem, parse
from rigbook.units.pattern import NUMBER, amount_pattern
from rigbook.units.quantity import Amount, Quantity

TYPES = MappingProxyType(
    {
        "lr": "linkwitz-riley",
        "linkwitz-riley": "linkwitz-riley",
        "bw": "butterworth",
        "butterworth": "butterworth",
        "bessel": "bessel",
    }
)
SLOPES = (6, 12, 18, 24, 30, 36, 42, 48)


@frozen
class Filter:
    """A cut filter. `type` and `slope` (dB per octave) are empty and 0 where the plan does not say."""

    frequency: Quantity
    type: str
    slope: int
    text: str
    """As printed: `100 Hz Linkwitz-Riley 24 dB/oct`."""


def filter_value(text: str, span: Span) -> Filter | Problem:
    """FREQUENCY TYPE? SLOPE?, in that order."""
    m = re.match(r"\s*([0-9.,]+\s*k?hz)\b", text, re.IGNORECASE)
    if not m:
        fix = phrase("write a frequency first: `100 Hz lr 24 dB/oct`")
        return Problem(phrase("`%(value)s` does not begin with a frequency", value=text), fix, 0, len(text))
    frequency = parse(m.group(1), "frequency")
    if isinstance(frequency, Problem):
        return frequency
    rest = text[m.end() :].strip()
    word = re.match(r"[A-Za-z-]+", rest)
    kind = ""
    if word:
        kind = TYPES.get(word.group().lower(), "")
        if not kind:
            fix = phrase("write `lr` (Linkwitz-Riley), `butterworth` or `bessel`")
            return Problem(
                phrase("`%(value)s` is no filter type", value=word.group()),
                fix,
                text.index(word.group()),
                len(word.group()),
            )
        rest = rest[word.end() :].strip()
    return _slope(text, rest, frequency, kind)


def _slope(text: str, rest: str, frequency: Quantity, kind: str) -> Filter | Problem:
    slope = 0
    if rest:
        got = parse(rest, "slope")
        if isinstance(got, Problem):
            start = text.index(rest)
            return Problem(
                got.message, phrase("write the slope as `24 dB/oct`"), start + got.start, got.length or len(rest)
            )
        slope = round(got.value)
        steps = SLOPES[1::2] if kind == "linkwitz-riley" else SLOPES
        if slope not in steps:
            fix = phrase("write one of %(names)s", names=joined(f"`{s} dB/oct`" for s in steps))
            return Problem(
                phrase("a filter of `%(rest)s` does not exist in that type", rest=rest),
                fix,
                text.index(rest),
                len(rest),
            )
    said = [frequency.page(), *([kind.title()] if kind else []), *([Amount(str(slope), "dB/oct")] if slope else [])]
    return Filter(frequency, kind, slope, joined(said, " "))


def _pattern() -> str:
    """What `filter_value` takes: a slope that is no whole number is rounded, so that any may be one that exists."""

    def slope(steps: tuple[int, ...]) -> str:
        return rf"\+?(?:0*(?:{'|'.join(map(str, steps))})(?:\.[0-9]*)?|[0-9]*\.[0-9]+)\s*{unit}"

    def words(kind: str) -> str:
        every = (w for w, k in TYPES.items() if k == kind or (not kind and k != "linkwitz-riley"))
        return "|".join("".join(f"[{c.upper()}{c}]" if c.isalpha() else c for c in w) for w in every)

    unit = amount_pattern("slope").partition(r"\s*")[2]
    lr, other = words("linkwitz-riley"), words("")
    return (
        rf"^\s*{NUMBER}\s*k?Hz(?:\s+(?:(?:{lr})(?:\s*{slope(SLOPES[1::2])})?|(?:{other})(?:\s*{slope(SLOPES)})?"
        rf"|{slope(SLOPES)}))?\s*$"
    )


FILTER = Parsed(phrase("a filter such as `100 Hz lr 24 dB/oct`"), filter_value, _pattern(), name="filter")
