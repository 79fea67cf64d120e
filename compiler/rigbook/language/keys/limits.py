"""Keys of the limits that the checks use. Each default names its source; a plan sets its own beside it."""

from __future__ import annotations

from rigbook.language.grammar import WHOLE, Amount, Key, Shape

SETTINGS = Shape(
    "limits",
    "Limits that the checks use in this plan.",
    (
        Key("unbalanced-length", Amount("length", "6 m"), "longest unbalanced line", "6 m", "6 m (common practice)"),
        Key(
            "speaker-cable-loss",
            Amount("level", "0.5 dB"),
            "greatest loss in a speaker cable",
            "0.5 dB",
            "0.5 dB (common practice)",
        ),
        Key("damping", WHOLE, "least damping factor at the box", "20", "20 (common practice)"),
        Key("temperature", Amount("temperature", "20 degC"), "temperature of the copper", "20 degC", "20 degC"),
        # loudspeakers and amplifiers
        Key(
            "amplifier-least",
            Amount("percent", "50 %"),
            "least amplifier power, of the continuous power of the box",
            "50 %",
            "50 % (common practice)",
        ),
        Key(
            "amplifier-most",
            Amount("percent", "150 %"),
            "amplifier power above which a limiter is wanted, of the continuous power of the box",
            "150 %",
            "150 % (common practice)",
        ),
        Key(
            "nominal-level",
            Amount("digital level", "-18 dBFS"),
            "level that the meters of the desk are worked at",
            "-18 dBFS",
            "-18 dBFS (EBU R68-2000)",
        ),
        Key(
            "headroom",
            Amount("level", "0 dB"),
            "least headroom of the amplifier over that level",
            "6 dB",
            "0 dB (common practice)",
        ),
        Key(
            "delay-offset",
            Amount("time", "10 ms"),
            "how much later than the box it helps a fill or delay box is meant to arrive",
            "10 ms",
            "10 ms (common practice)",
        ),
        Key(
            "delay-latest",
            Amount("time", "35 ms"),
            "how much later it may arrive",
            "35 ms",
            "35 ms (Haas 1951, as drawn in Everest, Master Handbook of Acoustics, fig. 3-19)",
        ),
        # places and level
        Key(
            "over-heads",
            Amount("length", "0.3 m"),
            "how far a main box stands above the ears of the audience",
            "0.3 m",
            "0.3 m (common practice)",
        ),
        Key(
            "uncovered",
            Amount("percent", "20 %"),
            "share of an audience area that may lie outside every box's coverage",
            "20 %",
            "20 % (common practice)",
        ),
        Key(
            "spread",
            Amount("level", "10 dB"),
            "greatest difference of A-weighted level over the middle 90 % of an audience area",
            "10 dB",
            "10 dB (common practice)",
        ),
        Key(
            "front-row",
            Amount("level", "10 dB"),
            "how much louder than the mix position the front row may be",
            "10 dB",
            "10 dB (common practice)",
        ),
        Key(
            "stability-margin",
            Amount("level", "6 dB"),
            "margin before feedback",
            "6 dB",
            "6 dB (common practice)",
        ),
        Key(
            "equivalent-distance",
            Amount("length", "2 m"),
            "how near the farthest listener should seem to the talker",
            "2 m",
            "2 m (common practice)",
        ),
        Key(
            "exposure",
            Amount("sound level", "100 dB(A)"),
            "greatest level over 15 minutes anywhere in the audience",
            "100 dB(A)",
            "100 dB(A) (WHO 2022, global standard for venues and events, feature 1)",
        ),
        # power, rack
        Key(
            "circuit-share",
            Amount("percent", "80 %"),
            "share of a breaker's rating that a lasting load may use",
            "80 %",
            "80 % (NEC (NFPA 70) 210.20(A); elsewhere the local code decides)",
        ),
        Key(
            "phase-unbalance",
            Amount("percent", "30 %"),
            "greatest departure of a phase from the mean of the phases in use",
            "30 %",
            "30 % (common practice)",
        ),
        Key(
            "voltage-drop",
            Amount("percent", "5 %"),
            "greatest drop of voltage along the feed of a circuit",
            "5 %",
            "5 % (IEC 60364-5-52, annex G, from memory; elsewhere the local code decides)",
        ),
        Key(
            "lift",
            Amount("mass", "25 kg"),
            "what one person lifts",
            "25 kg",
            "25 kg (HSE (UK) INDG143, waist height, close to the body)",
        ),
        Key(
            "rack-heat",
            Amount("power", "300 W"),
            "heat above which a rack wants an opening for air",
            "300 W",
            "300 W (common practice)",
        ),
    ),
)
