"""Where a thing has its own place in the handbook. An anchor depends on the name alone, so it never changes while
the name does not.
"""

from __future__ import annotations

import re
from functools import lru_cache
from types import MappingProxyType

PAGES = MappingProxyType(
    {
        "socket": "patch.html",
        "unit": "patch.html",
        "cable": "patch.html",
        "channel": "patch.html",
        "bus": "routing.html",
        "output": "routing.html",
        "box": "routing.html",
        "rack": "rack.html",
        "step": "walk-test.html",
        "task": "set-up.html",
        "check": "checks.html",
        "finding": "checks.html",
        "area": "venue.html",
        "contact": "venue.html",
        "circuit": "power.html",
        "carrier": "radio.html",
    }
)
"""The page that holds the place of each sort of thing."""


@lru_cache(maxsize=16384)
def slug(text: str) -> str:
    """Letters, digits, points and hyphens. A slash becomes two hyphens and an arrow three, so that unlike names stay
    unlike: `amp/in 1` and `amp-in-1`.
    """
    return re.sub(r"[^A-Za-z0-9.-]+", "-", text.replace("/", "--").replace(" -> ", "---")).strip("-")


def anchor(sort: str, name: str) -> str:
    """The id of a thing's place: `socket-box--out-3`."""
    return f"{sort}-{slug(name)}"


def href(sort: str, name: str) -> str:
    """The link to a thing's place, from any page: `patch.html#socket-box--out-3`."""
    return f"{PAGES[sort]}#{anchor(sort, name)}"
