"""Keys of the top level, and of room, people, power, radio, stock, notes, records, exceptions and changes.

long: one table.
"""

from __future__ import annotations

import re
from collections.abc import Callable

from rigbook.findings.place import Span
from rigbook.language.grammar import (
    NOTE,
    TEXT,
    WHOLE,
    YES_NO,
    Amount,
    AmountRange,
    Choice,
    Grammar,
    Key,
    ListOf,
    MapOf,
    Shape,
    in_change,
)
from rigbook.language.keys import plausible
from rigbook.language.keys.changes import Changes
from rigbook.language.keys.kinds import KIND, PORT
from rigbook.language.keys.labels import LABELS, PUBLISHED
from rigbook.language.keys.limits import SETTINGS
from rigbook.language.keys.rig import BUS, FOR, INPUT, OUTPUT, RACK, SETTING, TEXT_FOR, UNIT
from rigbook.language.values.names import NAME_REF, NAMED_TEXT, THING, name_problem, names_problem, title_problem
from rigbook.language.values.positions import POSITION
from rigbook.language.values.sends import leg_problem
from rigbook.language.values.sizes import CLOCK, COUNTED, DATE, JOINED, SIZE, clock_problem
from rigbook.language.values.wires import WIRE
from rigbook.records import replace
from rigbook.text.phrase import phrase
from rigbook.units.parse import Problem

VERSION = 1
"""The version of the language that this rigbook writes; every version up to it is read."""


def _version(text: str, span: Span) -> int | Problem:
    if re.fullmatch(r"\d{1,6}", text):
        return int(text)
    fix = phrase("write `plan: %(version)s`; the title of the show stands behind `show:`", version=VERSION)
    return Problem(phrase("`%(text)s` is no version of the language", text=text), fix, 0, len(text))


LANGUAGE_VERSION = replace(WHOLE, parse=_version)

SPOKEN = ("en", "de", "fr")
LANGUAGES = (*SPOKEN, "x-mirror")
"""Languages that the handbook's own words are written in; the last is for testing layouts (`handbook/mirror.py`)."""

DESK_SECTIONS = ("inputs", "buses", "outputs")

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
AREA = Shape(
    "audience area",
    "A part of the audience, a rectangle or an outline seen from above.",
    (
        Key("from", POSITION, "one corner of the rectangle, at floor level", "5 m left, 2 m out"),
        Key("to", POSITION, "the corner across; its height gives the rake", "5 m right, 14 m out"),
        Key("outline", ListOf(POSITION), "corners in order, where it is no rectangle", "[5 m left, 2 m out]"),
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
        Key("audience", MapOf("AREA", AREA, key_check=name_problem), "audience areas", "{floor: {…}}"),
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
        Key("hazards", NOTE, "what to look out for", "Low beam above the stage."),
        Key("text", NOTE, "a note on the room", "Curtains stay closed."),
        TEXT_FOR,
    ),
)
SUPPLY = Shape(
    "supply",
    "A mains supply or generator.",
    (
        Key("phases", WHOLE, "phases, 1 or 3", "3", "1"),
        Key("voltage", Amount("voltage", "230 V"), "line to neutral", "230 V", "230 V", within=plausible.VOLTAGE),
        Key("frequency", Amount("frequency", "50 Hz"), "mains frequency", "50 Hz", "50 Hz", within=plausible.MAINS),
        Key("rating", Amount("current", "63 A"), "rated current of each phase", "63 A", within=plausible.CURRENT),
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
        Key("outlets", TEXT, "where it comes out", "stage left rear"),
        Key("length", Amount("length", "25 m"), "cable from the breaker to the outlet", "25 m", within=plausible.CABLE),
        Key("area", Amount("area", "2.5 mm2"), "conductor area of that cable", "2.5 mm2", within=plausible.CABLE_AREA),
        Key("other-load", Amount("power", "500 W"), "what else is on it", "500 W", within=plausible.DRAW),
        Key("shared-with", TEXT, "what else is on it, in words", "lighting"),
    ),
)
POWER = Shape(
    "power plan",
    "Supplies and circuits.",
    (
        Key("supplies", MapOf("SUPPLY", SUPPLY, key_check=name_problem), "supplies", "{house: {phases: 3}}"),
        Key("circuits", MapOf("CIRCUIT", CIRCUIT, key_check=name_problem), "circuits", "{stage-1: {…}}"),
        Key("order", ListOf(NAME_REF), "order of switching on, where it is not sources first", "[desk, box]"),
        Key("text", NOTE, "a note", "Ask before using the kitchen ring."),
        TEXT_FOR,
    ),
)
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
        Key("transmitter", NAME_REF, "kind of transmitter", "radio-handheld"),
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
            MapOf("UNIT", TRANSMITTER, key_check=name_problem),
            "by receiver unit",
            "{rx-1: {frequency: 606.5 MHz}}",
        ),
        Key(
            "bands",
            ListOf(AmountRange("frequency", "606 MHz - 614 MHz")),
            "bands allowed here",
            "[606 MHz - 614 MHz]",
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
NOTE_ENTRY = Shape(
    "note",
    "A note for the handbook.",
    (
        Key("text", NOTE, "the note, in Markdown", "Ring the bell.", required=True),
        Key("about", THING, "the unit, rack, bus, channel or socket it belongs to", "channel 7"),
        Key("page", Choice(NOTE_PAGES), "the page it stands on", "venue"),
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
HEARD = Shape(
    "walk-test record",
    "What was heard when the rig was walked.",
    (
        Key("date", DATE, "when", "2027-02-06", required=True),
        Key("time", CLOCK, "at what time, to tell the records of one day apart", "18:20"),
        Key("by", TEXT, "who", "house technician"),
        Key("rig", TEXT, "fingerprints of the steps that were walked", "main-left:3f2a9c main-right:91bc04"),
        Key("heard", MapOf("STEP", TEXT), "result of each step", "{main-left: as expected}"),
        Key("text", NOTE, "a note", "Left top rattles at 80 Hz."),
    ),
)
EXCEPTION = Shape(
    "exception",
    "A finding that is accepted here, with the reason.",
    (
        Key("check", NAME_REF, "name of the check", "shared-output", required=True),
        Key("at", TEXT, "the thing it is accepted for", "box/out 3", required=True),
        # asked for by a check of its own: an exception without it still says what is accepted
        Key("reason", TEXT, "why", "Two wedges share one mix on purpose."),
    ),
)


def step_problem(text: str) -> Problem | None:
    """What is wrong with a step's name, if anything."""
    if text in STEPS:
        return None
    return Problem(f"`{text}` is no step of the day", "write one of " + ", ".join(f"`{s}`" for s in STEPS), 0, 0)


def _mapped(what: str, value: Grammar, check: Callable[[str], Problem | None]) -> MapOf:
    return MapOf(what, value, key_check=check)


def channel_problem(text: str) -> Problem | None:
    """What is wrong with a channel number, if anything."""
    if re.fullmatch(r"[1-9]\d{0,3}", text):
        return None
    return Problem(f"`{text}` is no channel number", "write the number on the desk, such as `7`", 0, len(text))


RIG_KEYS = (
    Key("places", _mapped("PLACE", POSITION, name_problem), "named places", "{foh: 14 m out}"),
    Key(
        "units",
        _mapped("NAME", UNIT, names_problem),
        "equipment in this rig; several names share a line",
        "{desk: desk-24}",
    ),
    Key(
        "inputs",
        _mapped("CHANNEL", INPUT, channel_problem),
        "channels, by number; `inputs on DESK` with several desks",
        "{1: {…}}",
    ),
    Key(
        "buses",
        _mapped("BUS", BUS, name_problem),
        "buses of the desk; `buses on DESK` with several desks",
        "{main: {stereo: yes}}",
    ),
    Key(
        "outputs",
        _mapped("BUS LEG", OUTPUT, leg_problem),
        "which socket each bus leaves by; `outputs on DESK`",
        "{main left: box/out 1}",
    ),
    Key(
        "wiring", _mapped("CABLE KIND", ListOf(WIRE), name_problem), "cables, by kind", "{xlr: [box/out 1 -> amp/in A]}"
    ),
    Key("racks", _mapped("RACK", RACK, name_problem), "racks", "{amps: {kind: rack-12u}}"),
    Key("power", POWER, "supplies and circuits", "{supplies: …}"),
    Key("radio", RADIO, "radio frequencies", "{channels: …}"),
    Key("contacts", _mapped("ROLE", CONTACT, title_problem), "people to ask", "{sound: {name: Ada}}"),
    Key("notes", _mapped("HEADING", NOTE_ENTRY, title_problem), "notes", "{Doors: Ring the bell.}"),
    Key("desk-notes", _mapped("STEP", DESK_NOTE, step_problem), "this desk's own way to do each step", "{route: …}"),
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
)

PLAN = Shape(
    "plan",
    "A plan file: a show, a house rig, a touring rig or a gear library.",
    (
        Key("plan", LANGUAGE_VERSION, "version of the language", "1", required=True),
        Key("show", TEXT, "title of a show", "Lantern supper"),
        Key("venue", TEXT, "name of the venue", "Tithe barn"),
        Key("library", TEXT, "title of a gear library", "Our own boxes"),
        Key(
            "builds-on",
            ListOf(TEXT, lone=True),
            "plans this one builds on, as paths from this file",
            "../venues/barn.yaml",
        ),
        Key("language", Choice(LANGUAGES), "language of the handbook's own words", "de", "en"),
        Key("revision", TEXT, "revision of the plan", "3"),
        Key("date", DATE, "date of the show", "2027-02-06"),
        Key("doors", CLOCK, "when the doors open", "18:30"),
        Key("running-order", _mapped("TIME", TEXT, clock_problem), "what happens when", "{19:00: Fiddle set}"),
        Key(
            "length", Amount("time", "2.5 h"), "how long the audience is exposed", "2.5 h", within=plausible.EXPOSED_FOR
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
            _mapped("KIND", KIND, name_problem),
            "kinds of equipment that the shipped library lacks",
            "{our-top: {…}}",
        ),
        *RIG_KEYS,
        PUBLISHED,
        Key("labels", LABELS, "what labels are printed on", "{size: 70 x 37 mm}"),
        Key("stock", _mapped("KIND", STOCK, name_problem), "what is owned", "{xlr: {lengths: 6 x 10 m}}"),
        Key("walk-tests", ListOf(HEARD), "records of walk tests", "[{date: 2027-02-06}]"),
        Key(
            "changes",
            Changes("REASON", CHANGE, key_check=title_problem),
            "changes to what the plan builds on",
            "{Harp moves: {…}}",
        ),
        Key("exceptions", ListOf(EXCEPTION), "findings accepted here", "[{check: …, at: …, reason: …}]"),
        Key("limits", SETTINGS, "limits the checks use", "{damping: 20}"),
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
