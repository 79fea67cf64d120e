"""Keys of the radio plan: carriers and the bands that are allowed."""

from __future__ import annotations

from rigbook.language.groups import ListOf, MapOf
from rigbook.language.keys import plausible
from rigbook.language.keys.rig import TEXT_FOR
from rigbook.language.shape import Key, Shape
from rigbook.language.values.amounts import Amount, AmountRange
from rigbook.language.values.names import NAME_REF, ONE_NAME
from rigbook.language.values.words import NOTE

TRANSMITTER = Shape(
    "radio channel",
    "A radio microphone or in-ear system.",
    (
        Key(
            "frequency",
            Amount("frequency", "606.5 MHz"),
            "carrier",
            "606.5 MHz",
            required=True,
            within=plausible.CARRIER,
        ),
        Key(
            "bandwidth",
            Amount("frequency", "200 kHz"),
            "bandwidth it takes",
            "200 kHz",
            "200 kHz",
            within=plausible.BANDWIDTH,
        ),
        Key("transmitter", NAME_REF, "kind of transmitter", "radio-handheld", "not known"),
        Key("text", NOTE, "a note", "Spare on the same frequency."),
        TEXT_FOR,
    ),
)
RADIO = Shape(
    "radio plan",
    "Frequencies, and the bands that the law of the place allows (typed by the user).",
    (
        Key(
            "channels",
            MapOf("UNIT", TRANSMITTER, ONE_NAME),
            "by receiver unit",
            "{rx-1: {frequency: 606.5 MHz}}",
        ),
        Key(
            "bands",
            ListOf(AmountRange("frequency", "606 MHz - 614 MHz")),
            "bands allowed here",
            "[606 MHz - 614 MHz]",
            "not known: bands are not judged",
            within=plausible.CARRIER,
        ),
        Key("step", Amount("frequency", "25 kHz"), "tuning step", "25 kHz", "25 kHz", within=plausible.BANDWIDTH),
        Key(
            "spacing",
            Amount("frequency", "350 kHz"),
            "least distance between carriers",
            "350 kHz",
            "350 kHz",
            within=plausible.BANDWIDTH,
        ),
        Key(
            "guard",
            Amount("frequency", "100 kHz"),
            "least distance of an intermodulation product from a carrier",
            "100 kHz",
            "half the bandwidth of the carrier",
            within=plausible.GUARD,
        ),
        Key("text", NOTE, "a note on licences", "Licence held by the venue."),
        TEXT_FOR,
    ),
)
