"""Keys of the stock: what is owned of a kind."""

from __future__ import annotations

from rigbook.language.groups import ListOf
from rigbook.language.keys import plausible
from rigbook.language.shape import Key, Shape
from rigbook.language.values.names import NAME_REF
from rigbook.language.values.sizes import COUNTED, JOINED
from rigbook.language.values.words import NOTE, WHOLE

STOCK = Shape(
    "stock line",
    "What is owned of a kind.",
    (
        Key("count", WHOLE, "how many", "12"),
        Key(
            "lengths",
            ListOf(COUNTED, lone=True),
            "cables: counts and lengths",
            "[6 x 10 m, 4 x 20 m]",
            within=plausible.CABLE,
        ),
        Key("join", JOINED, "cables: pieces that may be plugged together for one run", "2", "1: none are joined"),
        Key("joiner", NAME_REF, "kind of coupler that each joint takes", "xlr-turned-male", "the ends fit each other"),
        Key("text", NOTE, "a note", "Two are out for repair."),
    ),
    short="count",
)
