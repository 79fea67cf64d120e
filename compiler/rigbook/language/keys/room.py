"""Keys of the room and of its audience areas."""

from __future__ import annotations

from rigbook.language.groups import ListOf, MapOf
from rigbook.language.keys import plausible
from rigbook.language.keys.rig import TEXT_FOR
from rigbook.language.shape import Key, Shape
from rigbook.language.values.amounts import Amount
from rigbook.language.values.names import ONE_NAME
from rigbook.language.values.positions import POSITION
from rigbook.language.values.sizes import SIZE
from rigbook.language.values.words import NOTE, WHOLE, YES_NO

AREA = Shape(
    "audience area",
    "A part of the audience, a rectangle or an outline seen from above.",
    (
        Key("from", POSITION, "one corner of the rectangle, at floor level", "5 m left, 2 m out", "by `outline`"),
        Key("to", POSITION, "the corner across; its height gives the rake", "5 m right, 14 m out", "by `outline`"),
        Key(
            "outline",
            ListOf(POSITION),
            "corners in order, where it is no rectangle",
            "[5 m left, 2 m out]",
            "the rectangle",
        ),
        Key(
            "ear-height",
            Amount("length", "1.2 m"),
            "height of the ears above the floor",
            "1.2 m",
            "1.2 m seated",
            within=plausible.EARS,
        ),
        Key("standing", YES_NO, "people stand", "yes", "no"),
        Key("text", NOTE, "a note on it", "Chairs out for dances."),
        TEXT_FOR,
    ),
)
ROOM = Shape(
    "room",
    "The room or field.",
    (
        Key("stage", SIZE, "width x depth x height of the stage", "8 x 5 x 0.9 m"),
        Key("size", SIZE, "width x depth x height of the room", "12 x 24 x 6 m"),
        Key("volume", Amount("volume", "1700 m3"), "volume of air", "1700 m3", "from `size`", within=plausible.VOLUME),
        Key(
            "audience",
            MapOf("AREA", AREA, ONE_NAME),
            "audience areas",
            "{floor: {…}}",
            "none: no levels are worked out",
        ),
        Key("mix-position", POSITION, "where the desk is worked", "14 m out, 1.2 m up"),
        Key(
            "temperature",
            Amount("temperature", "20 degC"),
            "air temperature",
            "20 degC",
            "20 degC",
            within=plausible.TEMPERATURE,
        ),
        Key("humidity", Amount("percent", "50 %"), "relative humidity", "50 %", "50 %", within=plausible.SHARE),
        Key(
            "reverberation-time",
            Amount("time", "1.4 s"),
            "reverberation time at mid frequencies",
            "1.4 s",
            within=plausible.REVERBERATION,
        ),
        Key(
            "noise-limit",
            Amount("level", "97 dB"),
            "greatest A-weighted level allowed at the mix position",
            "97 dB",
            "none: no limit",
            within=plausible.SOUND_LEVEL,
        ),
        Key(
            "noise-limit-over",
            Amount("time", "15 min"),
            "time over which the limit is averaged",
            "15 min",
            "15 min",
            within=plausible.AVERAGED,
        ),
        Key(
            "background-noise",
            Amount("level", "35 dB"),
            "A-weighted level of the empty room",
            "35 dB",
            within=plausible.NOISE,
        ),
        Key("capacity", WHOLE, "people", "180"),
        Key("access", NOTE, "how cases get in", "Double door at the rear, no step."),
        Key("hazards", NOTE, "what to look out for", "Low beam above the stage.", "none named"),
        Key("text", NOTE, "a note on the room", "Curtains stay closed.", "none"),
        TEXT_FOR,
    ),
    left_out="not known",
)
