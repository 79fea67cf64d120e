"""What stands on pages in the mirror language that neither the language nor the plan has said.

The mirror writes its words in Hebrew letters between brackets, so Latin letters on a page come from the plan, from the
gear library, or were never given to the language. A run of Latin words counts as the plan's if it stands in a file of
the plan or of the gear library, numbers and signs apart.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from html.parser import HTMLParser

QUIET = ("script", "style", "code", "pre")
"""What is no text of a page, or is quoted."""
SAID = ("alt", "title", "aria-label", "data-l", "data-title", "placeholder", "content", "data-place")
"""Attributes that people read or hear."""
SYMBOLS = frozenset((
    *("dB", "dBu", "dBFS", "dBV", "Hz", "kHz", "MHz", "GHz", "ms", "s", "m", "mm", "cm", "km", "kg", "g", "min", "h"),
    *("W", "kW", "V", "kV", "A", "mA", "VA", "Ω", "kΩ", "U", "l", "BTU", "oct", "lr", "bw", "AWG", "L1", "L2", "L3"),
    *("Linkwitz-Riley", "Linkwitz", "Riley", "Butterworth", "Bessel"),  # filters bear the names of people
    *("XLR", "RJ", "USB", "BNC", "DI", "PDF", "CSV", "QR", "A4", "ID", "rigbook", "Letter", "IEC", "NEC", "NFPA"),
))
"""Symbols of units and of connectors that are the same everywhere."""
CODE = re.compile(r"[A-Z][A-Z0-9]{2}-[A-Z0-9]{3}[.,]?|CDFGHJKMNPQRTVWX")
"""Short codes of cables, and the letters that they are made of."""
SOCKET = re.compile(r"[\w-]+/[\w-]+(?: (?:\d+|[A-Z])\b)?(?: [LR]\b)?")
VOID = ("br", "img", "input", "link", "meta", "hr", "wbr", "source", "col")


class Texts(HTMLParser):
    """Texts of a page with the line they begin on; not those in a part that is marked as English."""

    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.open: list[tuple[str, bool]] = []
        self.found: list[tuple[int, str]] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = dict(attrs)
        hidden = self._hidden or tag in QUIET or (tag != "html" and given.get("lang") == "en")
        if not hidden:
            skipped = ("content",) if tag == "meta" else ()
            self.found += [(self.getpos()[0], v) for k, v in attrs if k in SAID and v and k not in skipped]
        if tag not in VOID:
            self.open.append((tag, hidden))

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.handle_starttag(tag, attrs)
        if tag not in VOID:
            self.open.pop()

    def handle_endtag(self, tag: str) -> None:
        while self.open and self.open.pop()[0] != tag:
            pass

    def handle_data(self, data: str) -> None:
        if not self._hidden:
            self.found.append((self.getpos()[0], data))

    @property
    def _hidden(self) -> bool:
        return bool(self.open) and self.open[-1][1]


def plain(text: str) -> str:
    """Words in small letters, a blank between them; no numbers, symbols of units or single letters."""
    words = re.sub(r"[^A-Za-zµ]+", " ", text).split()
    return " ".join(w.lower() for w in words if w not in SYMBOLS and len(w) > 1)


def corpus(texts: Iterable[str]) -> str:
    """Everything that the plan and the gear library say."""
    return f" {' '.join(plain(text) for text in texts)} "


def runs(text: str) -> Iterator[str]:
    """Runs of Latin words in a text, without symbols that are the same everywhere."""
    for run in re.findall(r"[A-Za-z][A-Za-z0-9'’./ -]*", text):
        words = [w for w in run.split() if w not in SYMBOLS and re.search(r"[A-Za-z]{2}", w) and not CODE.fullmatch(w)]
        if words:
            yield " ".join(words)


def strange(page: str, known: str, units: Iterable[str] = ()) -> list[tuple[int, str]]:
    """Runs of Latin words that nobody has said: line and text. A unit's name may stand before what is its own."""
    desks = {f"{plain(unit)} " for unit in units}

    def said(run: str) -> bool:
        words = plain(run)
        return f" {words} " in known or any(words.startswith(d) and f" {words[len(d):]} " in known for d in desks)

    texts = Texts()
    texts.feed(page)
    out = []
    for line, text in texts.found:
        out += [(line, run) for run in runs(re.sub(SOCKET, "/", text)) if plain(run) and not said(run)]
    return out


def pointed(page: str, known: frozenset[str]) -> list[tuple[int, str]]:
    """Numbers with a decimal point, line and number: the mirror writes another sign, so nobody has said them either."""
    texts = Texts()
    texts.feed(page)
    return [(line, number) for line, text in texts.found for number in NUMBER.findall(text) if number not in known]


def numbers(texts: Iterable[str]) -> frozenset[str]:
    """Numbers with a decimal point as they stand in files and messages."""
    return frozenset(number for text in texts for number in NUMBER.findall(text))


NUMBER = re.compile(r"(?<![\w.])\d+\.\d+(?![\w.]|-\d)")
