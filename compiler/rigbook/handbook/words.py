"""Words of the language as they are printed on a page."""

from __future__ import annotations

import re
from types import MappingProxyType
from typing import Final

from rigbook.language.grammar import Record
from rigbook.units.quantity import MINUS, Quantity

CONNECTORS: Final = MappingProxyType(
    {
        "xlr-female": "XLR female",
        "xlr-male": "XLR male",
        "jack-balanced": "jack, balanced",
        "jack-unbalanced": "jack, unbalanced",
        "combo": "XLR/jack",
        "phono": "phono",
        "mini-jack": "mini-jack",
        "rj45-locking": "RJ45, locking",
        "speaker-2-pole": "speaker, 2-pole",
        "speaker-4-pole": "speaker, 4-pole",
        "binding-posts": "binding posts",
        "multipin": "multipin",
        "usb": "USB",
        "bnc": "BNC",
        "optical": "optical",
        "mains-inlet": "mains inlet",
        "mains-outlet": "mains outlet",
        "mains-locking": "mains, locking",
        "three-phase-inlet": "three-phase inlet",
        "three-phase-outlet": "three-phase outlet",
        "open": "bare ends",
    }
)
VIEW_TITLES: Final = MappingProxyType(
    {"crew": "Crew handbook", "guest": "Handbook for visiting engineers", "public": "Technical specification"}
)
MONTHS: Final = (
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
)
DAYS: Final = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")


def count(number: int, one: str, many: str = "") -> str:
    """`1 cable`, `3 cables`."""
    return f"{number} {one if number == 1 else many or one + 's'}"


def short(names: tuple[str, ...], most: int = 4) -> str:
    """A few names, and how many more."""
    shown = ", ".join(names[:most])
    return shown + (f" and {len(names) - most} more" if len(names) > most else "")


def level(db: float) -> str:
    """A level in a matrix: `0`, `−6`, `+3`."""
    return f"{db:+g}".replace("-", MINUS) if db else "0"


def tight(text: str) -> str:
    """A text in which no line breaks between a number and its unit."""
    return re.sub(r"(?<=\d) (?=[A-Za-z])", "\u00a0", text)


def processing_words(record: Record) -> str:
    """What a record says of processing, as typed: `low cut 100 Hz lr 24 dB/oct, delay 12 ms`."""
    words = []
    for key in ("low-cut", "high-cut", "delay", "gain", "limiter", "equaliser"):
        value = record.get(key)
        if value is not None:
            shown = value.page() if isinstance(value, Quantity) else getattr(value, "text", value)
            words.append(f"{key.replace('-', ' ')} {shown}")
    if record.get("polarity") == "reversed":
        words.append("polarity reversed")
    return tight(", ".join(words))
