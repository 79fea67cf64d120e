"""Keys of the labels: the stock they are printed on, the pitch of socket strips, the address that codes lead to."""

from __future__ import annotations

from rigbook.language.groups import MapOf
from rigbook.language.shape import Key, Shape
from rigbook.language.values.amounts import Amount
from rigbook.language.values.formats import ADDRESS, FORMAT, LABEL, SHEET
from rigbook.language.values.names import ONE_NAME
from rigbook.language.values.words import WHOLE, YES_NO

PUBLISHED = Key(
    "published",
    ADDRESS,
    "where the handbook is published; codes on labels lead there",
    "https://example.org/hall",
    "none: codes are short codes",
)

LABELS = Shape(
    "labels",
    "What labels are printed on. Measure the sheet that is there; makers round.",
    (
        Key("sheet", SHEET, "the sheet, upright", "A4", "A4"),
        Key("size", LABEL, "width x height of one label", "70 x 37 mm", "70 x 37 mm"),
        Key("columns", WHOLE, "labels side by side", "3", "as many as fit"),
        Key("rows", WHOLE, "labels one below the other", "8", "as many as fit"),
        Key("gap", FORMAT, "between labels, side by side x one below the other", "2.5 x 0 mm", "none"),
        Key("margin", FORMAT, "from the left x the top edge to the first label", "7 x 15 mm", "what remains, halved"),
        Key("skip", WHOLE, "labels of the first sheet that are used up", "5", "0"),
        Key("codes", YES_NO, "print the square codes", "no", "yes"),
        Key("strip", Amount("length", "10 mm"), "height of a socket strip", "10 mm", "10 mm"),
        Key(
            "pitch",
            Amount("length", "26 mm"),
            "from one socket to the next on a panel",
            "26 mm",
            "26 mm (common practice: XLR sockets flange to flange)",
        ),
        Key(
            "pitches",
            MapOf("UNIT or KIND", Amount("length", "30 mm"), ONE_NAME),
            "where it is another",
            "{box: 30 mm}",
            "as `pitch` says",
        ),
    ),
)
