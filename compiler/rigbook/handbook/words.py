"""Words of the language as they are printed on a page."""

from __future__ import annotations

import re
from collections.abc import Iterable
from types import MappingProxyType
from typing import Final

from rigbook.findings.place import NOWHERE
from rigbook.language.record import Record
from rigbook.language.values.positions import aim, position, tilt
from rigbook.plan.model import Bus, Channel
from rigbook.text.phrase import held, joined, phrase
from rigbook.units.quantity import MINUS, Amount, Quantity

CONNECTORS: Final = MappingProxyType(
    {
        "xlr-female": phrase("XLR female"),
        "xlr-male": phrase("XLR male"),
        "jack-balanced": phrase("jack, balanced"),
        "jack-unbalanced": phrase("jack, unbalanced"),
        "combo": phrase("XLR/jack"),
        "phono": phrase("phono"),
        "mini-jack": phrase("mini-jack"),
        "rj45-locking": phrase("RJ45, locking"),
        "speaker-2-pole": phrase("speaker, 2-pole"),
        "speaker-4-pole": phrase("speaker, 4-pole"),
        "binding-posts": phrase("binding posts"),
        "multipin": phrase("multipin"),
        "usb": phrase("USB"),
        "bnc": phrase("BNC"),
        "optical": phrase("optical"),
        "mains-inlet": phrase("mains inlet"),
        "mains-outlet": phrase("mains outlet"),
        "mains-locking": phrase("mains, locking"),
        "three-phase-inlet": phrase("three-phase inlet"),
        "three-phase-outlet": phrase("three-phase outlet"),
        "open": phrase("bare ends"),
    }
)
VIEW_TITLES: Final = MappingProxyType(
    {
        "crew": phrase("Crew handbook"),
        "guest": phrase("Handbook for visiting engineers"),
        "public": phrase("Technical specification"),
    }
)
CHOICES: Final = MappingProxyType(
    {
        "mains": phrase("mains"),
        "subs": phrase("subs"),
        "monitor": phrase("monitor"),
        "fill": phrase("fill"),
        "delay": phrase("delay"),
        "group": phrase("group"),
        "matrix": phrase("matrix"),
        "effects": phrase("effects"),
        "record": phrase("record"),
        "feed": phrase("feed"),
        "left": phrase("left"),
        "right": phrase("right"),
        "centre": phrase("centre"),
        "front": phrase("front"),
        "rear": phrase("rear"),
        "hung": phrase("hung"),
        "stand": phrase("stand"),
        "ground": phrase("ground"),
        "stack": phrase("stack"),
        "wall": phrase("wall"),
        "truss": phrase("truss"),
        "pre": phrase("pre"),
        "post": phrase("post"),
        "vent": phrase("vent"),
        "blank": phrase("blank"),
        "drawer": phrase("drawer"),
        "everyone": phrase("everyone"),
        "crew": phrase("crew"),
        "stage crew": phrase("stage crew"),
        "engineer": phrase("engineer"),
        "visiting engineer": phrase("visiting engineer"),
    }
)
"""Words that the plan language offers to choose from, as pages print them."""


def chosen(word: object) -> str:
    """A word that was chosen from those the language offers, as printed; whatever else was typed stays."""
    return CHOICES.get(str(word or ""), str(word or ""))


def both(names: Iterable[str]) -> str:
    """Two names, or more: `box/out 1 and box/out 2`; empty where there is none."""
    out, *rest = (*names,) or ("",)
    for name in rest:
        out = phrase("%(a)s and %(b)s", a=out, b=name)
    return out


def role_words(bus: Bus) -> str:
    """What a bus is for: `monitor for Fiddle`."""
    role, whose = chosen(bus.role), bus.record.get("monitor-for")
    return phrase("%(role)s for %(who)s", role=role, who=str(whose)) if whose else role


def short(names: tuple[str, ...], most: int = 4) -> str:
    """A few names, and how many more."""
    shown = joined(names[:most])
    more = len(names) - most
    return phrase("%(names)s and %(number)s more", names=shown, number=more) if more > 0 else shown


def tight(text: str) -> str:
    """A text in which no line breaks between a number and its unit."""
    return held(text)


def level(db: float) -> str:
    """A level in a matrix: `0`, `−6`, `+3`."""
    return Amount(f"{db:+g}" if db else "0")


def processing_words(record: Record) -> str:
    """What a record says of processing, as printed: `low cut 100 Hz Linkwitz-Riley 24 dB/oct, delay 12 ms`."""
    words: list[str] = []
    for key, message in PROCESSING.items():
        value = record.get(key)
        if value is not None:
            shown = value.page() if isinstance(value, Quantity) else getattr(value, "text", value)
            # an equaliser is typed in words, its cuts with a hyphen
            shown = re.sub(r"(?<![^ ,;])-(?=\d)", MINUS, shown) if key == "equaliser" else shown
            words.append(phrase(message, value=shown))
    if record.get("polarity") == "reversed":
        words.append(phrase("polarity reversed"))
    return held(joined(words))


def insert_words(owner: Bus | Channel) -> str:
    """The two sockets of an insert; empty where there is none."""
    if owner.insert is None:
        return ""
    sends, returns = (joined(s.id for s in ends) for ends in (owner.insert.sends, owner.insert.returns))
    return phrase("insert: out by %(send)s, back by %(return)s", send=sends, **{"return": returns})


def bus_words(bus: Bus) -> str:
    """What happens to the signal of a bus: its insert, its processing."""
    return joined((w for w in (insert_words(bus), processing_words(bus.record)) if w), "; ")


def change_words(text: str) -> str:
    """What a show changed, as typed (`monitor-for: Fiddles, at: 1 m left 2 m out`), as it is said: `for Fiddles, …`."""
    said = []
    for part in re.split(r", (?=[a-z-]+: )", text):
        key, colon, value = part.partition(": ")
        read = PLACED.get(key)
        got = read(value, NOWHERE) if read else None
        value = getattr(got, "text", None) or value
        said.append(phrase(SAID[key], value=value) if colon and key in SAID else part)
    return text if said == [text] else joined(said)


PLACED: Final = MappingProxyType({"at": position, "aim": aim, "tilt": tilt})
SAID: Final = MappingProxyType(
    {
        "monitor-for": phrase("for %(value)s"),
        "at": phrase("at %(value)s"),
        "aim": phrase("aim %(value)s"),
        "tilt": phrase("tilt %(value)s"),
        "socket": phrase("socket %(value)s"),
        "sockets": phrase("sockets %(value)s"),
    }
)
"""Keys of the language as a sentence has them."""
PROCESSING: Final = MappingProxyType(
    {
        "low-cut": phrase("low cut %(value)s"),
        "high-cut": phrase("high cut %(value)s"),
        "delay": phrase("delay %(value)s"),
        "gain": phrase("gain %(value)s"),
        "limiter": phrase("limiter %(value)s"),
        "equaliser": phrase("equaliser %(value)s"),
    }
)
"""What is said of processing, by the key of the language."""
