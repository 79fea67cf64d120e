"""Where a channel or a bus goes: `main`, `mix-1 -6 dB`, `subs -3 dB post`, `main left`; and bus legs: `main left`."""

from __future__ import annotations

import re
from typing import Any

from rigbook.findings.place import Span
from rigbook.language.reading import Naming, Parsed, Reading
from rigbook.language.values.names import NAME, name_problem
from rigbook.records import frozen, replace
from rigbook.text.phrase import phrase
from rigbook.text.tree import Mapping, Node, Scalar
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
    text = re.sub(r"(?<=\s)[\u2013\u2014](?=[0-9])", "-", text)  # a word processor's minus
    m = re.match(rf"\s*({NAME})(?![^\s])", text)
    if not m or _NUMBERED.match(text):
        meant = _meant(text, span)
        if meant is not None:
            return meant
    if not m:
        return Problem(
            phrase("`%(value)s` names no bus", value=text),
            phrase("write a bus and perhaps a level: `mix-1 -6 dB`"),
            0,
            len(text),
        )
    bus, rest, leg, pick, off = m.group(1), text[m.end() :], "", "", False
    level: Quantity | None = None
    for word in re.finditer(r"[-+−]?[0-9][0-9.,]*\s*[A-Za-z]*|\S+", rest):
        w, start = word.group(), m.end() + word.start()
        if w in SIDES and not leg:
            leg = w
        elif w in ("pre", "post") and not pick:
            pick = w
        elif w == "off":
            off = True
        elif re.match(r"[-+−]?[0-9]", w) and level is None:
            got = parse(w, "level")
            if isinstance(got, Problem):
                return Problem(got.message, got.remedy, start + got.start, got.length)
            level = got
        else:
            fix = phrase("after the bus write `left` or `right`, a level such as `-6 dB`, `pre` or `post`, or `off`")
            return Problem(phrase("`%(value)s` does not belong in a send", value=w), fix, start, len(w))
    return Send(bus, leg, level, pick, off, span)


_BUS = re.compile(
    r"\s*([^,:]*?[^,:\s])(\s*:)?(?=\s+(?:[-+−]\s?[0-9]|[0-9][0-9.]*\s*dB|left\b|right\b|pre\b|post\b|off\b)|\s*$)(.*)"
)
_NUMBERED = re.compile(r"\s*[a-z][a-z-]* [0-9]{1,2}(?=\s*:|\s*$|\s+[-+−]?\s?[0-9])")
"""`mix 1 -6 dB`: a bus whose number stands apart."""


def _meant(text: str, span: Span) -> Problem | None:
    """What is wrong with a send that leaves no doubt of what it means: `Main -6 dB`, `mix 1 -6 dB`, `main: -6 dB`."""
    m = _BUS.fullmatch(text)
    if m is None:
        return None
    typed, colon, rest = m.group(1), m.group(2), " ".join(m.group(3).split())
    wrong = name_problem(typed)
    name = typed if wrong is None else wrong.instead
    whole = f"{name} {rest}".strip()
    got = send(whole, span) if name else None
    if not isinstance(got, Send):
        return None
    if colon:
        return Problem(
            phrase("a colon stands behind the bus `%(typed)s`", typed=typed),
            phrase("write `%(line)s`", line=whole),
            0,
            len(text),
            got,
        )
    if wrong is None:
        return None
    return replace(
        wrong, start=m.start(1), length=len(typed), remedy=phrase("write `%(line)s`", line=whole), instead=got
    )


def leg(text: str, span: Span) -> Leg | Problem:
    """BUS (`left`|`right`|`mono`)?"""
    words = text.split()
    wrong = name_problem(words[0]) if words else None
    if wrong and wrong.instead and len(words) <= 2:
        meant = leg(" ".join((str(wrong.instead), *(w.lower() for w in words[1:]))), span)
        if isinstance(meant, Leg):
            return replace(wrong, remedy=phrase("write `%(line)s`", line=meant.text), instead=meant)
    if not words or not re.fullmatch(NAME, words[0]) or len(words) > 2:
        return Problem(
            phrase("`%(value)s` names no bus", value=text),
            phrase("write a bus, or one side of it: `main left`"),
            0,
            len(text),
        )
    side = words[1] if len(words) == 2 else ""
    if side and side not in (*SIDES, "mono"):
        fix = phrase("write `%(bus)s left`, `%(bus)s right` or `%(bus)s mono`", bus=words[0])
        return Problem(
            phrase("`%(side)s` is no side of a bus", side=side), fix, text.index(side, len(words[0])), len(side)
        )
    return Leg(words[0], side, span)


def leg_problem(text: str) -> Problem | None:
    """What is wrong with a key of `outputs`, if anything."""
    got = leg(text, Span("", 0, 0, 0, 0))
    if not isinstance(got, Problem):
        return None
    return replace(got, instead=got.instead.text if isinstance(got.instead, Leg) else None)


@frozen
class SendGrammar(Parsed):
    """Reads a send; `main: -6 dB`, which YAML takes for a group of keys, is told with the send as it is written."""

    def read(self, node: Node, reading: Reading) -> Any:
        if isinstance(node, Mapping) and node.items and all(isinstance(v, Scalar) for v in node.items.values()):
            said = [f"{bus} {v.text}".strip() for bus, v in node.items.items() if isinstance(v, Scalar)]
            got = [send(text, node.span) for text in said]
            if all(isinstance(g, Send) for g in got):
                fix = (
                    phrase("write `%(line)s`", line=said[0])
                    if len(said) == 1
                    else phrase("write `%(line)s`", line=f"[{', '.join(said)}]")
                )
                lost = reading.fault(
                    "wrong-value", node.span, phrase("a colon stands between a bus and its level"), fix
                )
                return got[0] if len(got) == 1 else lost
        return super().read(node, reading)


_LEVEL = r"[-+\u2212\u2013\u2014]?[0-9]+(?:\.[0-9]*)?\s*dB"
_SEND = rf"^\s*{NAME}(?:\s+(?:left|right|pre|post|off|{_LEVEL}))*\s*$"
SEND = SendGrammar(phrase("a send such as `mix-1 -6 dB`"), send, _SEND, bare=True, name="send")
LEG = Naming(leg_problem, rf"^\s*{NAME}(?:\s+(?:left|right|mono))?\s*$")
