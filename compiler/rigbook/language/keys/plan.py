"""Keys of the top level, and what of them may stand in a change."""

from __future__ import annotations

import re

from rigbook.findings.place import Span
from rigbook.language.groups import ListOf, MapOf
from rigbook.language.keys import plausible
from rigbook.language.keys.changes import Changes
from rigbook.language.keys.exceptions import EXCEPTION
from rigbook.language.keys.kinds import KIND, PORT
from rigbook.language.keys.labels import LABELS, PUBLISHED
from rigbook.language.keys.limits import SETTINGS
from rigbook.language.keys.notes import CONTACT, DESK_NOTE, NOTE_ENTRY, STEP
from rigbook.language.keys.power import CIRCUIT, POWER, SUPPLY
from rigbook.language.keys.radio import RADIO, TRANSMITTER
from rigbook.language.keys.rig import BUS, INPUT, INSERT, OUTPUT, RACK, SETTING, UNIT
from rigbook.language.keys.room import AREA, ROOM
from rigbook.language.keys.stock import STOCK
from rigbook.language.keys.walk_tests import HEARD
from rigbook.language.reading import Naming
from rigbook.language.shape import Key, Shape, in_change
from rigbook.language.values.amounts import Amount
from rigbook.language.values.names import NAMED_TEXT, NAMES, ONE_NAME, TITLE
from rigbook.language.values.positions import POSITION
from rigbook.language.values.sends import LEG
from rigbook.language.values.sizes import CLOCK, DATE, TIME
from rigbook.language.values.wires import WIRE
from rigbook.language.values.words import TEXT, WHOLE, Choice, Number
from rigbook.records import replace
from rigbook.text.phrase import phrase
from rigbook.units.parse import Problem

VERSION = 1
"""The version of the language that this rigbook writes; every version up to it is read."""


def _version(text: str, span: Span) -> int | Problem:
    if re.fullmatch(r"[0-9]{1,6}", text):
        return int(text)
    fix = phrase("write `plan: %(version)s`; the title of the show stands behind `show:`", version=VERSION)
    return Problem(phrase("`%(text)s` is no version of the language", text=text), fix, 0, len(text))


LANGUAGE_VERSION = Number(WHOLE.words, _version, f"^0*[1-{VERSION}]$", least=1, most=VERSION)

SPOKEN = ("en", "de", "fr")
LANGUAGES = (*SPOKEN, "x-mirror")
"""Languages that the handbook's own words are written in; the last is for testing layouts (`handbook/mirror.py`)."""

DESK_SECTIONS = ("inputs", "buses", "outputs")


def channel_problem(text: str) -> Problem | None:
    """What is wrong with a channel number, if anything."""
    if re.fullmatch(r"[1-9][0-9]{0,3}", text):
        return None
    return Problem(f"`{text}` is no channel number", "write the number on the desk, such as `7`", 0, len(text))


CHANNEL = Naming(channel_problem, "^[1-9][0-9]{0,3}$")

RIG_KEYS = (
    Key("places", MapOf("PLACE", POSITION, ONE_NAME), "named places", "{foh: 14 m out}"),
    Key(
        "units",
        MapOf("NAME", UNIT, NAMES),
        "equipment in this rig; several names share a line",
        "{desk: desk-24}",
    ),
    Key(
        "inputs",
        MapOf("CHANNEL", INPUT, CHANNEL),
        "channels, by number; `inputs on DESK` with several desks",
        "{1: {…}}",
    ),
    Key(
        "buses",
        MapOf("BUS", BUS, ONE_NAME),
        "buses of the desk; `buses on DESK` with several desks",
        "{main: {stereo: yes}}",
    ),
    Key(
        "outputs",
        MapOf("BUS LEG", OUTPUT, LEG),
        "which socket each bus leaves by; `outputs on DESK`",
        "{main left: box/out 1}",
    ),
    Key(
        "wiring", MapOf("CABLE KIND", ListOf(WIRE), ONE_NAME), "cables, by kind", "{xlr: [box/out 1 -> amp/in A]}"
    ),
    Key("racks", MapOf("RACK", RACK, ONE_NAME), "racks", "{amps: {kind: rack-12u}}"),
    Key("power", POWER, "supplies and circuits", "{supplies: …}"),
    Key("radio", RADIO, "radio frequencies", "{channels: …}"),
    Key("contacts", MapOf("ROLE", CONTACT, TITLE), "people to ask", "{sound: {name: Ada}}"),
    Key("notes", MapOf("HEADING", NOTE_ENTRY, TITLE), "notes", "{Doors: Ring the bell.}"),
    Key("desk-notes", MapOf("STEP", DESK_NOTE, STEP), "this desk's own way to do each step", "{route: …}"),
)


CHANGE = Shape(
    "change",
    "A change to what the plan builds on. The heading is the reason; below it stand the usual keys.",
    (
        *(replace(key, value=in_change(key.value)) for key in RIG_KEYS),
        Key(
            "remove",
            ListOf(NAMED_TEXT, lone=True),
            "units, channels (`channel 7`), buses, outputs or cables that go",
            "[wedge-3]",
        ),
        Key("room", ROOM, "the room", "{humidity: 70 %}"),
    ),
    by_desk=DESK_SECTIONS,
    left_out="as it was",
)

PLAN = Shape(
    "plan",
    "A plan file: a show, a house rig, a touring rig or a gear library.",
    (
        Key("plan", LANGUAGE_VERSION, "version of the language", "1", required=True),
        Key("show", TEXT, "title of a show", "Lantern supper", "the venue: a house rig"),
        Key("venue", TEXT, "name of the venue", "Tithe barn"),
        Key("library", TEXT, "title of a gear library", "Our own boxes"),
        Key(
            "builds-on",
            ListOf(TEXT, lone=True),
            "plans this one builds on, as paths from this file",
            "../venues/barn.yaml",
        ),
        Key("language", Choice(SPOKEN, LANGUAGES[len(SPOKEN) :]), "language of the handbook's own words", "de", "en"),
        Key("revision", TEXT, "revision of the plan", "3"),
        Key("date", DATE, "date of the show", "2027-02-06"),
        Key("doors", CLOCK, "when the doors open", "18:30"),
        Key("running-order", MapOf("TIME", TEXT, TIME), "what happens when", "{19:00: Fiddle set}"),
        Key(
            "length",
            Amount("time", "2.5 h"),
            "how long the audience is exposed",
            "2.5 h",
            "not known: no dose is worked out",
            within=plausible.EXPOSED_FOR,
        ),
        Key(
            "target-level",
            Amount("sound level", "95 dB(A)"),
            "A-weighted level aimed at, at the mix position",
            "95 dB(A)",
            "the noise limit",
            within=plausible.EXPOSED,
        ),
        Key("room", ROOM, "the room", "{stage: 8 x 5 x 0.9 m}"),
        Key(
            "kinds",
            MapOf("KIND", KIND, ONE_NAME),
            "kinds of equipment that the shipped library lacks",
            "{our-top: {…}}",
        ),
        *RIG_KEYS,
        PUBLISHED,
        Key("labels", LABELS, "what labels are printed on", "{size: 70 x 37 mm}", "A4, as each key says"),
        Key("stock", MapOf("KIND", STOCK, ONE_NAME), "what is owned", "{xlr: {lengths: 6 x 10 m}}", "none: not judged"),
        Key("walk-tests", ListOf(HEARD), "records of walk tests", "[{date: 2027-02-06}]", "none: nothing was walked"),
        Key(
            "changes",
            Changes("REASON", CHANGE, TITLE),
            "changes to what the plan builds on",
            "{Harp moves: {…}}",
        ),
        Key("exceptions", ListOf(EXCEPTION), "findings accepted here", "[{check: …, at: …, reason: …}]"),
        Key("limits", SETTINGS, "limits the checks use", "{damping: 20}", "each limit's own"),
    ),
    by_desk=DESK_SECTIONS,
)

SHAPES: tuple[Shape, ...] = (
    PLAN,
    CHANGE,
    ROOM,
    AREA,
    UNIT,
    SETTING,
    INPUT,
    INSERT,
    BUS,
    OUTPUT,
    RACK,
    POWER,
    SUPPLY,
    CIRCUIT,
    RADIO,
    TRANSMITTER,
    CONTACT,
    NOTE_ENTRY,
    DESK_NOTE,
    STOCK,
    LABELS,
    HEARD,
    EXCEPTION,
    SETTINGS,
    KIND,
    PORT,
)
"""Every group of keys, in the order of the reference."""
