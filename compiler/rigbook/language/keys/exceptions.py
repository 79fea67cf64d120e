"""Keys of a finding that is accepted."""

from __future__ import annotations

from rigbook.language.shape import Key, Shape
from rigbook.language.values.names import NAME_REF
from rigbook.language.values.words import TEXT

EXCEPTION = Shape(
    "exception",
    "A finding that is accepted here, with the reason.",
    (
        Key("check", NAME_REF, "name of the check", "shared-output", required=True),
        Key("at", TEXT, "the thing it is accepted for", "box/out 3", required=True),
        # asked for by a check of its own: an exception without it still says what is accepted
        Key(
            "reason",
            TEXT,
            "why",
            "Two wedges share one mix on purpose.",
            "none, which is the finding `exception-without-reason`",
        ),
    ),
)
