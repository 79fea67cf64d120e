"""Keys of people to ask, of notes on the pages, and of a desk's own way to do a step."""

from __future__ import annotations

from rigbook.language.keys.rig import FOR
from rigbook.language.reading import Naming
from rigbook.language.shape import Key, Shape
from rigbook.language.values.names import THING
from rigbook.language.values.words import NOTE, TEXT, Choice
from rigbook.units.parse import Problem

NOTE_PAGES = (
    "front",
    "ten-minutes",
    "pull-list",
    "rack",
    "stage",
    "patch",
    "labels",
    "routing",
    "set-up",
    "speakers",
    "power",
    "radio",
    "walk-test",
    "venue",
)
"""Pages that a note may stand on."""

STEPS = ("place", "rack", "connect", "power", "route", "process", "patch", "test", "tune", "show", "strike")

CONTACT = Shape(
    "contact",
    "A person to ask.",
    (
        Key("name", TEXT, "their name", "Ada", required=True),
        Key("does", TEXT, "what they are asked about", "house technician"),
        Key("phone", TEXT, "phone", "extension 12"),
        Key("mail", TEXT, "mail address", "sound@example.org"),
        FOR,
    ),
)
NOTE_ENTRY = Shape(
    "note",
    "A note for the handbook.",
    (
        Key("text", NOTE, "the note, in Markdown", "Ring the bell.", required=True),
        Key("about", THING, "the unit, rack, bus, channel or socket it belongs to", "channel 7"),
        Key(
            "page",
            Choice(NOTE_PAGES),
            "the page it stands on",
            "venue",
            "beside what it is about; without that, the front page",
        ),
        FOR,
    ),
    short="text",
)
DESK_NOTE = Shape(
    "desk note",
    "How this desk's own people do one step of the set-up.",
    (Key("text", NOTE, "the note, in Markdown", "Press ROUTING, then OUT.", required=True), FOR),
    short="text",
)


def step_problem(text: str) -> Problem | None:
    """What is wrong with a step's name, if anything."""
    if text in STEPS:
        return None
    return Problem(f"`{text}` is no step of the day", "write one of " + ", ".join(f"`{s}`" for s in STEPS), 0, 0)


STEP = Naming(step_problem, f"^(?:{'|'.join(STEPS)})$")
