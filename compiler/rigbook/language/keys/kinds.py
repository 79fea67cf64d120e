"""Keys of a kind of equipment: the gear library."""

from __future__ import annotations

from rigbook.language.groups import ListOf, MapOf
from rigbook.language.keys import plausible
from rigbook.language.shape import Key, Shape
from rigbook.language.values.amounts import Amount, AmountRange
from rigbook.language.values.names import NAME_REF
from rigbook.language.values.sizes import COVERAGE, POWER_FACTOR, SIZE, Table
from rigbook.language.values.words import NOTE, TEXT, WHOLE, YES_NO, Choice

FAMILIES = (
    "desk",
    "stage box",
    "splitter",
    "tie line",
    "processor",
    "amplifier",
    "speaker",
    "powered speaker",
    "microphone",
    "di",
    "line source",
    "radio",
    "player",
    "recorder",
    "feed",
    "stand",
    "cable",
    "adaptor",
    "rack",
    "power distribution",
    "case",
)
CONNECTORS = (
    "xlr-female",
    "xlr-male",
    "jack-balanced",
    "jack-unbalanced",
    "combo",
    "phono",
    "mini-jack",
    "rj45-locking",
    "speaker-2-pole",
    "speaker-4-pole",
    "binding-posts",
    "multipin",
    "usb",
    "bnc",
    "optical",
    "mains-inlet",
    "mains-outlet",
    "mains-locking",
    "three-phase-inlet",
    "three-phase-outlet",
    "open",
)
LEVELS = (
    "mic",
    "line",
    "mic or line",
    "instrument",
    "headphone",
    "speaker",
    "100 V line",
    "network",
    "digital",
    "radio",
    "mains",
)

PORT = Shape(
    "port",
    "A socket, or a run of like sockets, of a kind of equipment.",
    (
        Key("connector", Choice(CONNECTORS), "the socket on the equipment", "xlr-female", required=True),
        Key("level", Choice(LEVELS), "what signal it carries", "line", required=True),
        Key("direction", Choice(("in", "out", "both")), "which way the signal goes", "in", required=True),
        Key("phantom", YES_NO, "an input: can give 48 V phantom power; an output: passes or needs it", "yes", "no"),
        Key("pad", YES_NO, "has a switchable pad", "yes", "no"),
        Key("block", WHOLE, "sockets of the run that are patched together", "8", "1"),
        Key("balanced", YES_NO, "balanced line", "no", "yes for XLR and balanced jack"),
    ),
)

KIND = Shape(
    "kind",
    "A kind of equipment, in generic terms. Every figure is the maker's rated value for that kind.",
    (
        Key("is", Choice(FAMILIES), "the family it belongs to", "amplifier", required=True),
        Key("title", TEXT, "what people call it", "amplifier, 2 x 500 W at 8 ohm", required=True),
        Key("text", NOTE, "a note on the kind", "Fan at the front.", "none"),
        Key("ports", MapOf("PORT", PORT), "its sockets; `in 1-16` is a run of sixteen", "{in A-B: {…}}", "none"),
        Key("routes", ListOf(TEXT), "what goes where inside it", "[in A -> out A]", "by family"),
        Key(
            "modes",
            MapOf("MODE", ListOf(TEXT)),
            "routes for each mode switch",
            "{parallel: [in A -> out A-B]}",
            "none: it has no switch",
        ),
        Key("size", SIZE, "width x depth x height", "0.48 x 0.4 x 0.09 m"),
        Key("weight", Amount("mass", "9 kg"), "weight", "9 kg", within=plausible.WEIGHT),
        Key("height", Amount("rack units", "2 U"), "rack units it takes", "2 U", within=plausible.RACK_UNITS),
        Key("depth", Amount("length", "420 mm"), "depth behind the rack rail", "420 mm", within=plausible.RACK_DEPTH),
        Key("inside-depth", Amount("length", "500 mm"), "a rack: usable depth", "500 mm", within=plausible.RACK_DEPTH),
        Key("load", Amount("mass", "60 kg"), "a stand or rack: what it may carry", "60 kg", within=plausible.LOAD),
        Key(
            "reach",
            AmountRange("length", "1.2 m - 2.1 m"),
            "a stand: lowest and highest setting",
            "1.2 m - 2.1 m",
            within=plausible.REACH,
        ),
        Key("draw-idle", Amount("power", "60 W"), "mains power at idle", "60 W", within=plausible.DRAW),
        Key(
            "draw-eighth",
            Amount("power", "420 W"),
            "mains power at 1/8 of rated output",
            "420 W",
            within=plausible.DRAW,
        ),
        Key(
            "draw-full", Amount("power", "1800 W"), "mains power at full rated output", "1800 W", within=plausible.DRAW
        ),
        Key("power-factor", POWER_FACTOR, "power factor of these draws; leave it out where they are in VA", "0.9", "1"),
        Key(
            "efficiency",
            Amount("percent", "65 %"),
            "an amplifier without `draw-eighth` or `draw-full`: output over what it draws beyond idle",
            "65 %",
            "55 %",
            within=plausible.EFFICIENCY,
        ),
        # desk
        Key("channels", WHOLE, "a desk: input channels", "32"),
        Key("buses", WHOLE, "a desk: buses for mixes, groups and matrices, counted in mono", "16"),
        Key(
            "full-scale",
            Amount("voltage level", "+21 dBu"),
            "level at 0 dBFS, inputs and outputs",
            "+21 dBu",
            within=plausible.FULL_SCALE,
        ),
        Key(
            "preamp-gain",
            AmountRange("level", "0 dB - 60 dB"),
            "range of the microphone preamplifier",
            "0 dB - 60 dB",
            within=plausible.PREAMP,
        ),
        Key("filters", ListOf(TEXT), "cut filters the outputs offer", "[lr 24 dB/oct, butterworth 12 dB/oct]"),
        Key(
            "remote-sockets", YES_NO, "a desk or stage box: joins others by network cable", "yes", "by its network port"
        ),
        # amplifier
        Key(
            "power",
            Table("resistance", "power", "{8 ohm: 500 W, 4 ohm: 800 W}"),
            "power of one channel",
            "{8 ohm: 500 W}",
            within=plausible.POWER,
        ),
        Key(
            "bridged-power",
            Table("resistance", "power", "{8 ohm: 1600 W}"),
            "power of a bridged pair",
            "{8 ohm: 1600 W}",
            within=plausible.POWER,
        ),
        Key(
            "minimum-load",
            Amount("resistance", "4 ohm"),
            "lowest load of one channel",
            "4 ohm",
            within=plausible.LOWEST_LOAD,
        ),
        Key(
            "minimum-load-bridged",
            Amount("resistance", "8 ohm"),
            "lowest load of a bridged pair",
            "8 ohm",
            within=plausible.LOWEST_LOAD,
        ),
        Key("gain", Amount("level", "32 dB"), "voltage gain", "32 dB", within=plausible.AMPLIFIER_GAIN),
        Key(
            "input-sensitivity",
            Amount("voltage", "1.4 V"),
            "input voltage for full power",
            "1.4 V",
            within=plausible.INPUT_VOLTAGE,
        ),
        Key("damping-factor", WHOLE, "damping factor at 8 ohm", "300"),
        # speaker
        Key("box", Choice(("top", "sub", "wedge", "fill", "delay")), "what a speaker is built for", "top"),
        Key("impedance", Amount("resistance", "8 ohm"), "nominal impedance", "8 ohm", within=plausible.IMPEDANCE),
        Key("rated-power", Amount("power", "400 W"), "continuous power", "400 W", within=plausible.POWER),
        Key("peak-power", Amount("power", "1600 W"), "peak power", "1600 W", within=plausible.POWER),
        Key("sensitivity", Amount("level", "97 dB"), "level at 1 m for 1 W", "97 dB", within=plausible.SENSITIVITY),
        Key(
            "peak-level",
            Amount("level", "128 dB"),
            "a powered speaker: greatest level at 1 m",
            "128 dB",
            within=plausible.PEAK_LEVEL,
        ),
        Key("coverage", COVERAGE, "nominal coverage, horizontal x vertical", "90 x 60 deg"),
        Key(
            "range",
            AmountRange("frequency", "60 Hz - 18 kHz"),
            "frequency range",
            "60 Hz - 18 kHz",
            within=plausible.RANGE,
        ),
        Key("stand-mount", YES_NO, "goes on a stand pole", "yes", "no"),
        Key("hang-points", YES_NO, "built to be hung", "yes", "no"),
        # microphone, DI
        Key("phantom", Choice(("needs", "takes", "refuses")), "what it does with phantom power", "needs", "takes"),
        Key(
            "mic-sensitivity",
            Amount("sensitivity", "2.5 mV/Pa"),
            "a microphone: output for 1 Pa",
            "2.5 mV/Pa",
            within=plausible.MICROPHONE,
        ),
        Key(
            "output-level",
            Amount("voltage level", "+4 dBu"),
            "nominal output level",
            "+4 dBu",
            within=plausible.LINE_LEVEL,
        ),
        Key("max-level", Amount("level", "140 dB"), "greatest sound level it takes", "140 dB", within=plausible.TAKES),
        Key("connector", Choice(CONNECTORS), "a source: the plug it gives its signal on", "xlr-male", "xlr-male"),
        # radio
        Key(
            "band",
            AmountRange("frequency", "470 MHz - 608 MHz"),
            "tuning range",
            "470 MHz - 608 MHz",
            within=plausible.CARRIER,
        ),
        Key("transmit-power", Amount("power", "10 mW"), "radio power", "10 mW", within=plausible.RADIO_POWER),
        # cable, adaptor
        Key(
            "ends",
            ListOf(Choice(CONNECTORS)),
            "a cable or adaptor: the sockets its two ends fit",
            "[xlr-male, xlr-female]",
        ),
        Key("carries", Choice(LEVELS), "a cable: what it is built to carry", "line"),
        Key("lines", WHOLE, "a multicore: lines in it", "8", "1"),
        Key("cores", WHOLE, "a cable: conductors", "2", "2"),
        Key(
            "area",
            Amount("area", "2.5 mm2"),
            "a cable: conductor area (AWG is taken too)",
            "2.5 mm2",
            within=plausible.CABLE_AREA,
        ),
        Key("max-length", Amount("length", "100 m"), "a cable: longest run", "100 m", within=plausible.CABLE),
        Key(
            "weight-per-metre",
            Amount("mass", "50 g"),
            "a cable: weight of one metre, without its plugs",
            "50 g",
            within=plausible.CABLE_WEIGHT,
        ),
        Key("capacitance", TEXT, "a cable: capacitance per metre", "100 pF/m"),
        Key(
            "lengths",
            ListOf(Amount("length", "10 m")),
            "a cable: lengths it is stocked in",
            "[5 m, 10 m]",
            within=plausible.CABLE,
        ),
        Key("turns-into", NAME_REF, "an adaptor: the kind of cable it makes fit", "xlr"),
        # power distribution
        Key(
            "rating", Amount("current", "16 A"), "a power distribution: rated current", "16 A", within=plausible.CURRENT
        ),
        Key("outlets", WHOLE, "a power distribution: outlets", "6"),
    ),
    left_out="not known",
)
