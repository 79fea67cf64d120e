"""Where a channel or a bus goes: `main`, `mix-1 -6 dB`, `subs -3 dB post`, `main left`; and bus legs: `main left`."""

from __future__ import annotations

import re

from rigbook.findings.place import Span
from rigbook.language.grammar import Parsed
from rigbook.language.values.names import NAME
from rigbook.records import frozen
from rigbook.units.parse import Problem, parse
from rigbook.units.quantity import Quantity

SIDES = ("left", "right")


@frozen
class Send:
    """A send as typed. `pick` is `pre`, `post` or empty (as the bus says); `leg` is `left`, `right` or empty."""

    bus: str
    leg: str
    level: Quantity | None
    pick: str
    off: bool
    """True where the send is written `off`: patched and ready, not open."""
    span: Span


@frozen
class Leg:
    """One leg of a bus as typed: `main left`, `subs`; `mono` is the sum of both legs, said on purpose."""

    bus: str
    leg: str
    span: Span

    @property
    def text(self) -> str:
        """As typed."""
        return f"{self.bus} {self.leg}".strip()


def send(text: str, span: Span) -> Send | Problem:
    """BUS (`left`|`right`)? LEVEL? (`pre`|`post`)? `off`?"""
    m = re.match(rf"\s*({NAME})(?![^\s])", text)
    if not m:
        return Problem(f"`{text}` names no bus", "write a bus and perhaps a level: `mix-1 -6 dB`", 0, len(text))
    bus, rest, leg, pick, off = m.group(1), text[m.end() :], "", "", False
    level: Quantity | None = None
    for word in re.finditer(r"[-+−]?\d[\d.,]*\s*[A-Za-z]*|\S+", rest):
        w, start = word.group(), m.end() + word.start()
        if w in SIDES and not leg:
            leg = w
        elif w in ("pre", "post") and not pick:
            pick = w
        elif w == "off":
            off = True
        elif re.match(r"[-+−]?\d", w) and level is None:
            got = parse(w, "level")
            if isinstance(got, Problem):
                return Problem(got.message, got.remedy, start + got.start, got.length)
            level = got
        else:
            fix = "after the bus write `left` or `right`, a level such as `-6 dB`, `pre` or `post`, or `off`"
            return Problem(f"`{w}` does not belong in a send", fix, start, len(w))
    return Send(bus, leg, level, pick, off, span)


def leg(text: str, span: Span) -> Leg | Problem:
    """BUS (`left`|`right`|`mono`)?"""
    words = text.split()
    if not words or not re.fullmatch(NAME, words[0]) or len(words) > 2:
        return Problem(f"`{text}` names no bus", "write a bus, or one side of it: `main left`", 0, len(text))
    side = words[1] if len(words) == 2 else ""
    if side and side not in (*SIDES, "mono"):
        fix = f"write `{words[0]} left`, `{words[0]} right` or `{words[0]} mono`"
        return Problem(f"`{side}` is no side of a bus", fix, text.index(side, len(words[0])), len(side))
    return Leg(words[0], side, span)


def leg_problem(text: str) -> Problem | None:
    """What is wrong with a key of `outputs`, if anything."""
    got = leg(text, Span("", 0, 0, 0, 0))
    return got if isinstance(got, Problem) else None


SEND = Parsed("a send such as `mix-1 -6 dB`", send)
