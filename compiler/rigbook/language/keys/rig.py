"""Keys of the rig: units, inputs, buses, outputs, racks, processing."""

from __future__ import annotations

from rigbook.language.groups import ListOf, MapOf
from rigbook.language.keys import plausible
from rigbook.language.shape import Key, Shape
from rigbook.language.values.amounts import Amount
from rigbook.language.values.filters import FILTER
from rigbook.language.values.names import NAME_REF, SOCKET
from rigbook.language.values.positions import AIM, POSITION, TILT
from rigbook.language.values.racks import RACK_ITEM, RACK_UNIT
from rigbook.language.values.sends import SEND
from rigbook.language.values.sizes import DATE
from rigbook.language.values.words import NOTE, TEXT, WHOLE, YES_NO, Choice
from rigbook.records import replace

VIEWS = ("crew", "guest", "public")
FOR = Key("for", Choice(VIEWS), "who may read it: crew only, visiting engineers too, or everyone", "guest", "crew")
TEXT_FOR = replace(FOR, help="who may read its `text`: crew only, visiting engineers too, or everyone")

PROCESSING = (
    Key("low-cut", FILTER, "high-pass filter", "100 Hz lr 24 dB/oct", within=plausible.CUT),
    Key("high-cut", FILTER, "low-pass filter", "100 Hz lr 24 dB/oct", within=plausible.CUT),
    Key("delay", Amount("time", "12 ms"), "delay", "12 ms", within=plausible.DELAY),
    Key("gain", Amount("level", "-3 dB"), "gain", "-3 dB", within=plausible.GAIN),
    Key("polarity", Choice(("normal", "reversed")), "polarity", "reversed", "normal"),
    Key("limiter", Amount("voltage level", "+8 dBu"), "limiter threshold", "+8 dBu", within=plausible.LIMITER),
    Key("equaliser", TEXT, "what was set, in words", "-3 dB at 250 Hz"),
)

SETTING = Shape("setting", "Processing of one socket of a processor, amplifier or powered speaker.", PROCESSING)

UNIT = Shape(
    "unit",
    "One piece of equipment in this rig.",
    (
        Key("kind", NAME_REF, "the kind in the gear library", "amplifier-2x500", required=True),
        Key("title", TEXT, "what is written on it, if not its name", "Main amplifier", "its name"),
        Key("at", POSITION, "where it stands", "4 m left, 1 m out, 2.4 m up", "not known"),
        Key("aim", AIM, "where it points", "10 deg right", "out"),
        Key("tilt", TILT, "how it is tilted", "8 deg down", "level"),
        Key(
            "mount",
            Choice(("hung", "stand", "ground", "stack", "wall", "truss")),
            "what holds it",
            "stand",
            "not said",
        ),
        Key("turned", YES_NO, "lies on its side", "yes", "no"),
        Key("side", Choice(("left", "right", "centre")), "house side, where no place says it", "left", "by `at`"),
        Key("safety", TEXT, "the second suspension of a hung unit", "rated steel, own point"),
        Key("stand", NAME_REF, "kind of stand under it", "speaker-stand"),
        Key("covers", ListOf(NAME_REF, lone=True), "audience areas it is there for", "[floor]", "every area"),
        Key("supports", NAME_REF, "a delay or fill: the box it helps", "top-left"),
        Key("mode", TEXT, "mode switch", "bridged", "the first of its kind"),
        Key("routes", ListOf(TEXT), "what goes where inside it", "[in 1 -> out 1]", "as its kind says"),
        Key("settings", MapOf("PORT", SETTING), "processing by socket", "{out 1: {low-cut: 100 Hz}}"),
        Key(
            "attenuation",
            Amount("level", "-6 dB"),
            "an amplifier: input attenuators",
            "-6 dB",
            "0 dB",
            within=plausible.ATTENUATION,
        ),
        Key("serial", TEXT, "serial number", "0417"),
        Key("owner", TEXT, "whose it is", "house"),
        Key("returns", DATE, "of what is hired: the day it goes back", "2027-02-08"),
        Key("spare", YES_NO, "a spare, not in use", "yes", "no"),
        Key("text", NOTE, "a note on it", "Left knob scratches."),
        FOR,
    ),
    short="kind",
)

INSERT = Shape(
    "insert",
    "Outboard equipment in the way of a channel or bus, joined by two sockets. Its cables stand in `wiring`.",
    (
        Key("send", SOCKET, "the socket it goes out by; `desk/out 5+6` for two sides", "desk/out 5", required=True),
        Key("return", SOCKET, "the socket it comes back by", "desk/line 16", required=True),
    ),
)

INPUT = Shape(
    "channel",
    "A channel of the desk and what is plugged into it.",
    (
        Key("name", TEXT, "what is on the channel strip", "Fiddle", required=True),
        Key("from", SOCKET, "the socket the channel listens to; `desk/line 3+4` for a stereo pair", "box/in 1"),
        Key(
            "plugged",
            SOCKET,
            "where the source is plugged, if there is a splitter or tie line between",
            "split/in 1",
            "at `from`",
        ),
        Key("mic", NAME_REF, "kind of microphone", "condenser-clip"),
        Key("di", NAME_REF, "kind of DI", "di-active"),
        Key("line", NAME_REF, "kind of line source", "keyboard"),
        Key(
            "source",
            Choice(("speech", "vocal", "instrument", "drums", "bass", "keys", "playback", "talkback")),
            "what makes the sound; `talkback` is who speaks to the stage, for the monitors alone",
            "vocal",
            "not said",
        ),
        Key("phantom", YES_NO, "48 V phantom power", "yes", "no"),
        Key("pad", YES_NO, "pad", "yes", "no"),
        Key("low-cut", FILTER, "low cut of the channel", "100 Hz", within=plausible.CHANNEL_CUT),
        Key("polarity", Choice(("normal", "reversed")), "polarity of the channel", "reversed", "normal"),
        Key(
            "gain",
            Amount("level", "35 dB"),
            "preamplifier gain to begin with",
            "35 dB",
            "not said; what is wanted is worked out",
            within=plausible.PREAMP,
        ),
        Key("stereo", YES_NO, "a stereo channel", "yes", "no"),
        Key("insert", INSERT, "outboard equipment in its way", "{send: desk/out 5, return: desk/line 16}"),
        Key("to", ListOf(SEND, lone=True), "where it is sent", "[main, mix-1 -6 dB]"),
        Key("muted", YES_NO, "muted by plan", "yes", "no"),
        Key("stand", NAME_REF, "kind of stand", "boom-stand"),
        Key(
            "cable",
            Amount("length", "10 m"),
            "cable from the source to its socket",
            "10 m",
            "not known",
            within=plausible.CABLE,
        ),
        Key("at", POSITION, "where the source stands", "1 m left, 2 m back", "not known"),
        Key(
            "mic-distance",
            Amount("length", "0.3 m"),
            "from the source to its microphone",
            "0.3 m",
            "by `source`: vocal 0.05 m, drums and bass 0.1 m, speech and talkback 0.3 m, else 0.15 m",
            within=plausible.MIC_DISTANCE,
        ),
        Key("text", NOTE, "a note on it", "Clip on the bridge."),
        TEXT_FOR,
    ),
)

BUS = Shape(
    "bus",
    "A bus of the desk.",
    (
        Key(
            "role",
            Choice(("mains", "subs", "monitor", "fill", "delay", "group", "matrix", "effects", "record", "feed")),
            "what the bus is for",
            "mains",
            "monitor with `monitor-for`; else from its name (`main`, `subs`)",
        ),
        Key("title", TEXT, "what is written on the desk, if not its name", "Mix 1", "its name"),
        Key("stereo", YES_NO, "has a left and a right leg", "yes", "no"),
        Key("monitor-for", TEXT, "whose monitor mix it is", "Fiddle"),
        Key("sends", Choice(("pre", "post")), "pick-off of the channels' sends", "pre", "pre for a monitor, else post"),
        Key("insert", INSERT, "outboard equipment in its way", "{send: desk/out 5, return: desk/line 16}"),
        Key("to", ListOf(SEND, lone=True), "other buses it goes to", "[lobby -6 dB]"),
        *PROCESSING,
        Key("text", NOTE, "a note on it", "Ring out before doors."),
        TEXT_FOR,
    ),
)

OUTPUT = Shape(
    "output",
    "Where a bus leaves the desk.",
    (
        Key("socket", ListOf(SOCKET, lone=True), "the socket or sockets", "box/out 11", required=True),
        Key("pick-off", Choice(("pre", "post")), "before or after the fader of the bus", "post", "post"),
        *PROCESSING,
    ),
    short="socket",
)

RACK = Shape(
    "rack",
    "A rack and what is in it. Heights count from the bottom.",
    (
        Key("kind", NAME_REF, "the kind of rack", "rack-12u", required=True),
        Key("title", TEXT, "what is written on it", "Amps", "its name"),
        Key("at", POSITION, "where it stands", "6 m right, 2 m back", "not known"),
        Key(
            "front",
            MapOf("LOWEST UNIT", RACK_ITEM, RACK_UNIT),
            "front, by lowest rack unit",
            "{1: amp-tops}",
        ),
        Key(
            "rear",
            MapOf("LOWEST UNIT", RACK_ITEM, RACK_UNIT),
            "rear, by lowest rack unit",
            "{12: patch}",
        ),
        Key("lifts", WHOLE, "people who carry it", "2", "1"),
        Key("wheels", YES_NO, "has wheels", "yes", "no"),
        Key("text", NOTE, "a note on it", "Lid off before power."),
        TEXT_FOR,
    ),
)
