"""Words of the language as they are printed on a page."""

from __future__ import annotations

from types import MappingProxyType
from typing import Final

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
