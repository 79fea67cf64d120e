"""Names, sockets and runs of sockets: `amp-tops`, `box/in 3`, `box/in 1-8`, `wedge-1, wedge-2`."""

from __future__ import annotations

import re
import unicodedata

from rigbook.findings.place import Span
from rigbook.language.reading import Naming, Parsed
from rigbook.records import frozen, replace
from rigbook.text.phrase import phrase
from rigbook.units.parse import Problem

NAME = r"[a-z0-9](?:[a-z0-9.-]*[a-z0-9])?"
"""Names are lower-case words joined by hyphens, so that they can be typed, said and used as page anchors."""


@frozen
class SocketRef:
    """A socket of a unit as typed: `box/in 3`; without a port, whatever port of the unit fits."""

    unit: str
    port: str
    span: Span

    @property
    def text(self) -> str:
        """As typed."""
        return f"{self.unit}/{self.port}" if self.port else self.unit


def name_problem(text: str) -> Problem | None:
    """What is wrong with a name, if anything."""
    if re.fullmatch(NAME, text):
        return None
    if not text:
        return Problem(phrase("a name is missing here"), phrase("write one, such as `amp-tops`"), 0, 0)
    better = re.sub(r"[^a-z0-9.]+", "-", in_plain_letters(text.lower())).strip("-.")
    good = re.fullmatch(NAME, better)
    fix = phrase("write `%(line)s`", line=better) if good else phrase("use small letters, digits and hyphens")
    message = phrase("`%(value)s` cannot be a name: names are small letters, digits and hyphens", value=text)
    return Problem(message, fix, 0, len(text), better if good else None)


_SPELT = str.maketrans({"ä": "ae", "ö": "oe", "ü": "ue", "ß": "ss", "æ": "ae", "ø": "oe", "å": "aa", "œ": "oe"})


def in_plain_letters(text: str) -> str:
    """A small text spelt without umlauts and accents, as is usual where a keyboard has none (DIN 5007-2 for German)."""
    apart = unicodedata.normalize("NFKD", unicodedata.normalize("NFC", text).translate(_SPELT))
    return "".join(c for c in apart if not unicodedata.combining(c))


def names_problem(text: str) -> Problem | None:
    """As `name_problem`, for a key that may hold several names: `wedge-1, wedge-2`."""
    parts = [t.strip() for t in text.split(",")]
    wrong = [p for t in parts if (p := name_problem(t))]
    if not wrong:
        return None
    better = [str(p.instead or "") if (p := name_problem(t)) else t for t in parts]
    return replace(wrong[0], instead=", ".join(better) if all(better) else None)


def split_names(text: str) -> list[tuple[str, int]]:
    """The names in `wedge-1, wedge-2`, each with the column at which it starts."""
    return [(m.group(), m.start()) for m in re.finditer(r"[^\s,]+", text)]


LONGEST_TITLE = 80
"""Characters."""


def title_problem(text: str) -> Problem | None:
    """What is wrong with a free title used as a key (rooms, areas, notes), if anything."""
    if text.strip() and len(text) <= LONGEST_TITLE:
        return None
    return Problem(phrase("this heading is empty or longer than 80 characters"), phrase("write a short heading"), 0, 0)


def socket(text: str, span: Span) -> SocketRef | Problem:
    """`unit/port` or `unit`."""
    unit, slash, port = text.partition("/")
    unit, port = unit.strip(), " ".join(port.split())
    wrong = name_problem(unit)
    if "," in port and all("/" in part for part in text.split(",")):
        message = phrase("`%(value)s` names several sockets, as a list does", value=text)
        fix = phrase("put brackets around them: `%(line)s`", line=f"[{text}]")
        return Problem(message, fix, 0, len(text), SocketRef(unit, port.partition(",")[0].strip(), span))
    apart = re.fullmatch(rf"({NAME}) ((?:in|out|line|input|output|net|link|channel|ch) ?[A-Z0-9].*)", text.strip())
    if apart:
        meant = SocketRef(apart.group(1), apart.group(2), span)
        message = phrase("no slash stands between `%(unit)s` and its socket", unit=meant.unit)
        return Problem(message, phrase("write `%(line)s`", line=meant.text), 0, len(text), meant)
    if wrong and wrong.instead is None:
        return Problem(
            phrase("`%(value)s` does not name a socket", value=text),
            phrase("write it as `unit/port`, such as `box/in 3`"),
            0,
            len(text),
        )
    if wrong and (port or not slash):
        meant = SocketRef(str(wrong.instead), port, span)
        return replace(wrong, remedy=phrase("write `%(line)s`", line=meant.text), length=len(unit), instead=meant)
    if slash and not port:
        return Problem(
            phrase("`%(value)s` names no port", value=text),
            phrase("write it as `%(unit)s/in 1`", unit=unit),
            0,
            len(text),
        )
    return SocketRef(unit, port, span)


def unfold(port: str) -> list[str] | None:
    """The ports that a run such as `in 1-8`, `in 3+4` or `out A-D` stands for; None if it is no run that makes sense.

    A single port gives a list of one.
    """
    m = re.fullmatch(r"(.*?)([0-9]{1,9}|[A-Z]) ?([-+–]) ?([0-9]{1,9}|[A-Z])", port)
    if not m:
        return [port]
    stem, first, sign, last = m.groups()
    if sign == "+":
        return [stem + first, stem + last]
    if first.isdecimal() != last.isdecimal():
        return None
    low, high = (int(first), int(last)) if first.isdecimal() else (ord(first), ord(last))
    if high <= low or high - low > 512:
        return None
    return [stem + (str(i) if first.isdecimal() else chr(i)) for i in range(low, high + 1)]


class Name(str):
    """A name as typed, with its place: in a list of names, each has its own."""

    span: Span

    def __new__(cls, text: str, span: Span) -> Name:
        made = super().__new__(cls, text)
        made.span = span
        return made


def place_of(name: str, otherwise: Span) -> Span:
    """Where a name was typed, if it knows."""
    return name.span if isinstance(name, Name) else otherwise


def _name(text: str, span: Span) -> Name | Problem:
    wrong = name_problem(text)
    if wrong is None:
        return Name(text, span)
    return replace(wrong, instead=None if wrong.instead is None else Name(str(wrong.instead), span))


def spoken(name: str) -> str:
    """A name of free text as it is written where names are joined by hyphens: `Lead vocal` is `lead-vocal`."""
    return "-".join(name.lower().split())


def _thing(text: str, span: Span) -> Name | SocketRef | Problem:
    """Anything that a note can be about. `channel 7`, `Lead vocal` and `bus main` are taken as people say them."""
    if "/" in text:
        return socket(text, span)
    name = spoken(text).removeprefix("bus-")
    return name_problem(name) or Name(name, span)


def _text(text: str, span: Span) -> Name | Problem:
    typed = text.strip()
    return (
        Name(typed, span)
        if typed
        else Problem(phrase("a name is missing here"), phrase("write one, or leave it out"), 0, 0)
    )


NAMED_TEXT = Parsed(phrase("a short text"), _text, r"\S", bare=True, name="text")
"""A text that names things, with its place."""
NAME_PATTERN = f"^{NAME}$"
ONE_NAME = Naming(name_problem, NAME_PATTERN)
NAMES = Naming(names_problem, rf"^\s*{NAME}\s*(?:,\s*{NAME}\s*)*$")
TITLE = Naming(title_problem, r"\S", longest=LONGEST_TITLE)
_SOCKET = rf"\s*{NAME}\s*(?:/\s*\S[\s\S]*)?"
NAME_REF = Parsed(phrase("a name such as `amp-tops`"), _name, NAME_PATTERN, bare=True, name="name")
# the Kelvin sign becomes a `k` where letters become small
_THING = rf"^(?:{_SOCKET}\s*|\s*[A-Za-z0-9\u212a][A-Za-z0-9.\s\u212a-]*)$"
THING = Parsed(phrase("a unit, a rack, a bus, a channel or a socket"), _thing, _THING, bare=True, name="thing")
SOCKET = Parsed(phrase("a socket such as `box/in 3`"), socket, rf"^{_SOCKET}\s*$", bare=True, name="socket")
