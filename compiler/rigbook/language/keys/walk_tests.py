"""Keys of the record of a walk test."""

from __future__ import annotations

from rigbook.language.groups import MapOf
from rigbook.language.shape import Key, Shape
from rigbook.language.values.sizes import CLOCK, DATE
from rigbook.language.values.words import NOTE, TEXT

HEARD = Shape(
    "walk-test record",
    "What was heard when the rig was walked.",
    (
        Key("date", DATE, "when", "2027-02-06", required=True),
        Key("time", CLOCK, "at what time, to tell the records of one day apart", "18:20"),
        Key("by", TEXT, "who", "house technician"),
        Key(
            "rig",
            TEXT,
            "fingerprints of the steps that were walked",
            "main-left:3f2a9c main-right:91bc04",
            "none: not held against the rig",
        ),
        Key("heard", MapOf("STEP", TEXT), "result of each step", "{main-left: as expected}"),
        Key("text", NOTE, "a note", "Left top rattles at 80 Hz."),
    ),
)
