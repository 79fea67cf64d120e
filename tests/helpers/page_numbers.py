"""Every number of a page with the words around it, and a corpus in which numbers are looked up with their units."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from html.parser import HTMLParser
from typing import Any, NamedTuple

from rigbook.units.dimension import SPELLINGS

BLOCKS = frozenset((
    "p", "li", "dt", "dd", "td", "th", "h1", "h2", "h3", "h4", "caption", "figcaption", "div", "section", "article",
    "nav", "header", "footer", "ul", "ol", "dl", "table", "tr", "thead", "tbody", "figure", "main", "label", "button",
    "option", "text", "title", "desc", "summary", "details", "legend", "pre", "br", "hr", "svg",
))
SKIPPED = frozenset(("script", "style", "template"))
SPOKEN = ("aria-label", "alt", "title", "placeholder", "data-l")
SCALE = frozenset(("axis", "spec-number"))
"""Classes of the numbers along the scale of a drawing."""
SPLIT = re.compile(
    r"[\s,;:()\[\]{}\"“”‘’'`→·|=<>+*×√?!≤≥]+|(?<!\d)[–—/]|[–—/](?!\d)|(?<=[^\W\d])/|/(?=[^\W\d])"
)
NUMBER = re.compile(r"[−-]?\d+(?:\.\d+)?")
MORE_UNITS = frozenset(("dB(A)", "dB(C)", "octaves", "BTU/h", "BTU"))
PRETTY = {spelling: found[0][0].pretty for spelling, found in SPELLINGS.items() if spelling != "in"}
"""Without the inch: `in` is the word before a socket's number."""


class Token(NamedTuple):
    """A number, or a word with digits in it."""

    word: str
    unit: str
    """Printed symbol of the unit that follows; empty where none does."""
    context: str


class Mark(NamedTuple):
    """A number on the scale of a drawing."""

    drawing: int
    x: float
    y: float
    text: str


class _Text(HTMLParser):
    """Text of a page by block, what is only spoken, and the scales of its drawings."""

    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.blocks: list[str] = []
        self.marks: list[Mark] = []
        self._now: list[str] = []
        self._skip = 0
        self._drawing = 0
        self._text: dict[str, str] = {}
        """Attributes of the `text` of a drawing that is being read."""
        self._ordinal = False
        self._tag = self._unit = ""
        """What is being read, and the unit that the caption of the table gives to bare numbers."""

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if tag in SKIPPED:
            self._skip += 1
        if tag in BLOCKS or ("class", "num") in attrs:
            self.end()  # an ordinal stands by itself: `37 A receiver …` is no current
        else:
            self._now.append(" ")
        self._ordinal = ("class", "num") in attrs
        self._drawing += tag == "svg"
        self._tag = tag if tag in BLOCKS else self._tag
        if tag == "table":
            self._unit = ""
        if tag == "text":
            self._text = {name: value or "" for name, value in attrs}
        self.blocks += [value for name, value in attrs if name in SPOKEN and value]

    def handle_endtag(self, tag: str) -> None:
        if tag in SKIPPED:
            self._skip -= 1
        if tag in BLOCKS or self._ordinal:
            self.end()
        else:
            self._now.append(" ")
        self._ordinal = False
        if tag == "text":
            self._text = {}

    def handle_data(self, data: str) -> None:
        if not self._skip:
            self._now.append(data)

    def end(self) -> None:
        """A block is whole."""
        text = " ".join("".join(self._now).split())
        self._now = []
        if not text:
            return
        if self._tag == "caption":
            last = text.rsplit(maxsplit=1)[-1]
            self._unit = last if unit_of(last) else ""
        css = set(self._text.get("class", "").split())
        if css & SCALE and re.fullmatch(r"[≤≥]? ?[−-]?[\d.–]+(?: \w+)?", text):
            self.marks.append(Mark(self._drawing, float(self._text["x"]), float(self._text["y"]), text))
        elif "figure" in css:
            # figures of a level map stand without their unit
            self.blocks.append(" ".join(f"{part} dB" for part in text.split()))
        elif self._tag == "td" and self._unit and NUMBER.fullmatch(text):
            self.blocks.append(f"{text} {self._unit}")
        else:
            self.blocks.append(text)


def read(html: str) -> tuple[list[str], list[Mark]]:
    """The texts of a page, one a block, and the numbers along the scales of its drawings."""
    parser = _Text()
    parser.feed(html)
    parser.close()
    parser.end()
    return parser.blocks, parser.marks


def tokens(text: str) -> Iterator[Token]:
    """Numbers and words with digits of a text."""
    flat = text.replace("\u00a0", " ").replace("\u202f", " ")
    flat = re.sub(r"(?<=\d) / (?=\d)", "/", flat)  # `10.9 / 8.1 A`: the unit is for both
    flat = re.sub(r"dB\(([AC])\)", r"dB⟨\1⟩", flat)  # a unit in brackets is kept whole
    parts = [p.strip(".…") for p in SPLIT.split(flat) if p]
    for i, part in enumerate(parts):
        if any(c.isdecimal() for c in part):
            after = parts[i + 1] if i + 1 < len(parts) else ""
            yield _token(part, after.replace("⟨", "(").replace("⟩", ")"), text)


def _token(part: str, after: str, text: str) -> Token:
    glued = re.fullmatch(r"([−-]?\d+(?:\.\d+)?)(%|°C|°|Ω|[A-Za-z²³/]+)", part)
    if glued and unit_of(glued[2]):
        return Token(glued[1], unit_of(glued[2]), text)
    # an amount of the plan language before it is printed: `-6dB`, `2.5mm2`
    return Token(part, unit_of(after) if re.fullmatch(r"[−-]?[\d./–-]+", part) else "", text)


def unit_of(word: str) -> str:
    """The printed symbol of a unit; empty for any other word."""
    return PRETTY.get(word, word if word in MORE_UNITS else "").replace("BTU", "BTU/h").replace("/h/h", "/h")


CITED = re.compile(
    r"IEC \d+(?:-\d+)*|ITU-R [A-Z.]+\d+|BSTJ,? (?:\d+, )?\d{4}|ISO \d+(?:-\d+)*|NIOSH \d+-\d+"
    r"|ANSI/INFOCOMM [A-Z]?[\d.]+:\d{4}|SHA-256|\b[23]?a ?[-+] ?2?b(?:-c)?\b"
)
"""Sources and formulas that a page cites: a figure's source is tested beside its formula."""


@dataclass
class Corpus:
    """What numbers may come from."""

    words: set[str] = field(default_factory=set)
    values: dict[str, set[float]] = field(default_factory=dict)
    """By unit."""

    def text(self, *texts: str) -> None:
        """Everything that texts say."""
        for text in texts:
            for word, unit, _ in tokens(text):
                self.words.add(word.casefold())
                if NUMBER.fullmatch(word):
                    self.number(float(word.replace("−", "-")), unit)
                else:
                    for part in re.split(r"[-–_./]", word):
                        self.words.add(part.casefold())
                        if NUMBER.fullmatch(part):
                            self.number(float(part), unit)

    def number(self, value: float, unit: str = "") -> None:
        """A number with its unit."""
        self.values.setdefault(unit, set()).add(float(value))

    def document(self, node: Any, units: dict[str, str], path: str = "") -> None:
        """A document of results: figures with their units, texts, plain numbers with the unit of their key."""
        if isinstance(node, dict):
            if "formula" in node:
                self.number(node["value"], node["unit"])
                for i in node["inputs"]:
                    self.document(i["value"], {"": i["unit"]})
                    self.text(i["name"])
                self.text(node["text"], node["formula"], *node["assumptions"])
                return
            for key, value in node.items():
                self.document(value, units, f"{path}.{key}" if path else key)
        elif isinstance(node, list):
            for value in node:
                self.document(value, units, f"{path}[]")
        elif isinstance(node, str):
            self.text(node)
        elif isinstance(node, (int, float)) and not isinstance(node, bool):
            self.number(float(node), units.get(path, ""))

    def holds(self, token: Token) -> bool:
        """True where a token is one of the words, or a number that is one of the values, rounded as shown."""
        if NUMBER.fullmatch(token.word):
            return self._number(token.word, token.unit)
        if token.word.casefold() in self.words:
            return True
        parts = [p for p in re.split(r"[–—/-]|(?<=\d)[x×](?=\d)", token.word) if any(c.isdecimal() for c in p)]
        return bool(parts) and all(
            (NUMBER.fullmatch(p) and self._number(p, token.unit)) or (p.casefold() in self.words and not p.isdecimal())
            for p in parts
        )

    def _number(self, word: str, unit: str) -> bool:
        return any(_shown_as(value, word) for value in self._like(unit))

    def _like(self, unit: str) -> Iterator[float]:
        """Values in a unit; also those in a larger or smaller one of the same kind."""
        yield from self.values.get(unit, ())
        for other, times in ALIKE.get(unit, ()):
            yield from (v * times for v in self.values.get(other, ()))


ALIKE = {
    "MHz": (("kHz", 1e-3), ("Hz", 1e-6)),
    "kHz": (("Hz", 1e-3), ("MHz", 1e3)),
    "Hz": (("kHz", 1e3),),
    "ms": (("s", 1e3),),
    "mm": (("m", 1e3),),
    "m": (("mm", 1e-3),),
    "kW": (("W", 1e-3),),
    "mW": (("W", 1e3),),
    "min": (("h", 60.0), ("s", 1 / 60)),
    "h": (("min", 1 / 60),),
    "dB": (("dB(A)", 1.0),),
}


def _shown_as(value: float, word: str) -> bool:
    """True where a value is printed so: rounded to as many places, or to as many significant digits."""
    shown = abs(float(word.replace("−", "-")))
    places = len(word.partition(".")[2])
    if abs(round(abs(value), places) - shown) < 1e-9 or abs(abs(value) - shown) < 0.5 * 10.0**-places - 1e-9:
        return True
    digits = len(word.strip("−-0.").replace(".", "").rstrip("0"))
    return not places and digits > 1 and float(f"{abs(value):.{digits}g}") == shown


def missing(html: str, corpora: Iterable[Corpus]) -> list[Token]:
    """Numbers of a page that no corpus holds, and scales of drawings that are none."""
    every = tuple(corpora)
    texts, marks = read(html)
    lost = [t for b in texts for t in tokens(b) if not any(c.holds(t) for c in every)]
    return lost + [Token(m.text, "", f"scale of drawing {m.drawing}") for m in off_scale(marks)]


def off_scale(marks: list[Mark]) -> list[Mark]:
    """Numbers of drawings that neither stand on a line where place and number go together, evenly or by octaves, nor
    are the only two of a scale that begins with 0, nor belong to a chain of steps (`≤ 86`, `86–88`).
    """
    lost = []
    for mark in marks:
        others = [m for m in marks if m.drawing == mark.drawing and m is not mark]
        if re.search(r"[≤≥–]", mark.text):
            steps = set(re.findall(r"\d+", mark.text))
            if not any(steps & set(re.findall(r"\d+", o.text)) for o in others):
                lost.append(mark)
        elif not _is_bar(mark, others) and not any(
            _in_line(mark, o, p, along) for along in ("x", "y") for o in others for p in others if o is not p
        ):
            lost.append(mark)
    return lost


def _is_bar(mark: Mark, others: list[Mark]) -> bool:
    """True for one of two numbers in a row or a column, of which one is 0."""
    every = (mark, *others)
    pairs = ([m for m in every if m.y == mark.y], [m for m in every if m.x == mark.x])
    return any(len(pair) == 2 and "0" in (pair[0].text, pair[1].text) for pair in pairs)


def _in_line(a: Mark, b: Mark, c: Mark, along: str) -> bool:
    """True where three marks of one row or column are spaced as their numbers are; two marks are always so."""
    import math

    across = "y" if along == "x" else "x"
    if len({round(getattr(m, across)) for m in (a, b, c)}) > 1:
        return False
    places = [getattr(m, along) for m in (a, b, c)]
    numbers = [float(found[0].replace("−", "-")) if (found := NUMBER.search(m.text)) else math.nan for m in (a, b, c)]
    for scale in (numbers, [math.log(n) if n > 0 else math.nan for n in numbers], [abs(n) for n in numbers]):
        (p, q, r), (u, v, w) = places, scale
        if q != p and v != u and abs((r - p) / (q - p) - (w - u) / (v - u)) < 0.02:
            return True
    return False
