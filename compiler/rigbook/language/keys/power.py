"""Keys of the mains: supplies and circuits."""

from __future__ import annotations

from rigbook.language.groups import ListOf, MapOf
from rigbook.language.keys import plausible
from rigbook.language.keys.rig import TEXT_FOR
from rigbook.language.shape import Key, Shape
from rigbook.language.values.amounts import Amount
from rigbook.language.values.names import NAME_REF, ONE_NAME
from rigbook.language.values.words import NOTE, TEXT, WHOLE, Choice, OneOf

LAID = (
    Key(
        "laid",
        Choice(("A1", "A2", "B1", "B2", "C", "E")),
        "how that cable lies, by IEC 60364-5-52: in an insulating wall (A1, A2), in conduit or trunking (B1, B2), on a "
        "surface (C), in free air (E)",
        "E",
        "C",
    ),
    Key("bunch", WHOLE, "how many loaded cables lie together there, this one among them", "3", "1"),
)
SUPPLY = Shape(
    "supply",
    "A mains supply or generator.",
    (
        Key("phases", OneOf((1, 3)), "how many phases it has", "3", "1"),
        Key("voltage", Amount("voltage", "230 V"), "line to neutral", "230 V", "230 V", within=plausible.VOLTAGE),
        Key("frequency", Amount("frequency", "50 Hz"), "mains frequency", "50 Hz", "50 Hz", within=plausible.MAINS),
        Key(
            "rating",
            Amount("current", "63 A"),
            "rated current of each phase",
            "63 A",
            "not known",
            within=plausible.CURRENT,
        ),
        Key(
            "length",
            Amount("length", "40 m"),
            "cable from there to where its circuits begin",
            "40 m",
            "not known",
            within=plausible.CABLE,
        ),
        Key(
            "area",
            Amount("area", "16 mm2"),
            "conductor area of that cable",
            "16 mm2",
            "not known",
            within=plausible.CABLE_AREA,
        ),
        *LAID,
        Key("text", NOTE, "a note on it", "Key at the bar."),
        TEXT_FOR,
    ),
)
CIRCUIT = Shape(
    "circuit",
    "A circuit with its own breaker.",
    (
        Key("supply", NAME_REF, "the supply it comes from", "house", required=True),
        Key("phase", Choice(("L1", "L2", "L3")), "phase", "L1", "L1"),
        Key(
            "rating",
            Amount("current", "16 A"),
            "rating of the breaker",
            "16 A",
            required=True,
            within=plausible.CURRENT,
        ),
        Key("feeds", ListOf(NAME_REF, lone=True), "units on it", "[amp-tops, box]"),
        Key("outlets", TEXT, "where it comes out", "stage left rear", "not said"),
        Key(
            "length",
            Amount("length", "25 m"),
            "cable from the breaker to the outlet",
            "25 m",
            "not known",
            within=plausible.CABLE,
        ),
        Key(
            "area",
            Amount("area", "2.5 mm2"),
            "conductor area of that cable",
            "2.5 mm2",
            "not known",
            within=plausible.CABLE_AREA,
        ),
        *LAID,
        Key("other-load", Amount("power", "500 W"), "what else is on it", "500 W", within=plausible.DRAW),
        Key("shared-with", TEXT, "what else is on it, in words", "lighting"),
    ),
)
POWER = Shape(
    "power plan",
    "Supplies and circuits.",
    (
        Key("supplies", MapOf("SUPPLY", SUPPLY, ONE_NAME), "supplies", "{house: {phases: 3}}"),
        Key("circuits", MapOf("CIRCUIT", CIRCUIT, ONE_NAME), "circuits", "{stage-1: {…}}"),
        Key(
            "order",
            ListOf(NAME_REF),
            "order of switching on, where it is not sources first",
            "[desk, box]",
            "sources first",
        ),
        Key("text", NOTE, "a note", "Ask before using the kitchen ring."),
        TEXT_FOR,
    ),
)
