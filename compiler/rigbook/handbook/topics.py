"""Topics of the commissioning record: what is to be proved of a sound system, and how a plan helps to prove it.

The topics follow ANSI/INFOCOMM 10:2013 (performance verification of audiovisual systems) in its audio, cabling,
electrical, wireless and documentation parts: from memory, in our own words, without its item numbers. Whoever has to
verify by the standard takes its own list.
"""

from __future__ import annotations

from types import MappingProxyType
from typing import Final

from rigbook.records import frozen
from rigbook.text.phrase import phrase

GROUPS: Final = MappingProxyType(
    {
        "audio": phrase("Audio"),
        "cabling": phrase("Cabling"),
        "electrical": phrase("Electrical"),
        "wireless": phrase("Wireless"),
        "documentation": phrase("Documentation"),
        "other": phrase("Other parts"),
    }
)
NEEDS: Final = MappingProxyType(
    {
        "speakers": phrase("the plan has no loudspeaker"),
        "amplifiers": phrase("no amplifier of the plan drives a loudspeaker"),
        "sides": phrase("no bus of the plan that the audience hears has two sides"),
        "subs": phrase("the plan has no bus for subs"),
        "together": phrase("no two boxes of the plan have to add"),
        "monitors": phrase("the plan has no monitor mix"),
        "feeds": phrase("the plan feeds nobody else and records nothing"),
        "inputs": phrase("the plan has no input"),
        "network": phrase("no signal of the plan runs over a network cable"),
        "mains": phrase("nothing in the plan says what it draws, and no supply is named"),
        "phases": phrase("the plan names no supply with three phases"),
        "racks": phrase("the plan has no rack"),
        "radio": phrase("the plan has no radio channel"),
        "hung": phrase("nothing in the plan is hung"),
        "never": phrase("a plan speaks of sound alone"),
    }
)
"""Why a topic does not apply, by what it needs."""
PAGES: Final = MappingProxyType(
    {
        "index": phrase("Front page"),
        "ten-minutes": phrase("Ten minutes"),
        "patch": phrase("Patch"),
        "labels": phrase("Labels"),
        "routing": phrase("Routing"),
        "speakers": phrase("Speakers"),
        "power": phrase("Power"),
        "rack": phrase("Racks"),
        "radio": phrase("Radio"),
        "pull-list": phrase("Pull list"),
        "checks": phrase("Checks"),
    }
)


ROOM: Final = MappingProxyType(
    {"limit": "noise-limit", "background": "background-noise", "reverberation": "reverberation-time"}
)
PLANNED: Final = MappingProxyType(
    {
        "limit": phrase("at most %(amount)s, the limit of the place"),
        "background": phrase("background noise of the room %(amount)s"),
        "reverberation": phrase("reverberation time of the room %(amount)s"),
    }
)
"""What a figure of the room says of the topic beside it."""


@frozen
class Topic:
    """One thing to prove."""

    group: str
    words: str
    needs: str = ""
    """What the plan must have for it to apply; empty where it always does."""
    walk: str = ""
    """Which steps of the walk test prove it; empty where none does."""
    checks: tuple[str, ...] = ()
    """Checks of the plan that watch over it."""
    pages: tuple[str, ...] = ()
    """Pages that hold what is planned."""
    instrument: str = ""
    """What has to be measured, and with what; empty where nothing has."""
    look: str = ""
    """What has to be looked at or tried by hand."""
    planned: str = ""
    """Which planned figure stands beside the reading."""


TOPICS: Final = (
    Topic("audio", phrase("Every loudspeaker sounds, fed by the bus that is meant for it and by no other"),
          "speakers", "alone",
          ("silent-speaker", "wrong-box", "double-routed-speaker", "unfed-output", "walk-test-gap"), ("routing",)),
    Topic("audio", phrase("Left and right are where they belong"), "sides", "sides",
          ("swapped-sides", "panned-astray")),
    Topic("audio", phrase("Loudspeakers that play together add: polarity"), "together", "together",
          ("polarity-at-crossover", "sub-polarity-differs"),
          instrument=phrase("polarity tester at each box; a listener cannot hear one box alone")),
    Topic("audio", phrase("Loudspeakers that play together arrive together: delay"), "together", "together",
          ("delay-missing", "delay-out-of-window"), ("speakers",),
          phrase("impulse response at the seats, each box against the one it helps; ms")),
    Topic("audio", phrase("Bands meet where they are meant to: filters of subs and tops"), "subs", "subs",
          ("crossover-gap", "crossover-overlap", "slopes-differ", "filtered-twice", "sub-full-range",
           "top-without-low-cut"), ("speakers",),
          phrase("response across the crossover, top and sub alone and together; dB")),
    Topic("audio", phrase("Level is even over the audience"), "speakers", "",
          ("audience-uncovered", "coverage-uneven", "front-row-level"), ("speakers",),
          phrase("level meter, band noise, at several seats: front, middle, back, sides; dB, and most less least")),
    Topic("audio", phrase("Tone is as wanted where people listen"), "speakers", "alone", (), ("speakers",),
          phrase("spectrum at several seats, pink noise; dB in thirds of an octave, averaged and each")),
    Topic("audio", phrase("The system is loud enough, and keeps within the limit"), "speakers", "",
          ("level-over-limit", "exposure-over-limit"), ("speakers",),
          phrase("level meter at the mix position, A-weighted average, over how many minutes; dB"), planned="limit"),
    Topic("audio", phrase("Speech is understood"), "speakers", "", (), ("speakers",),
          phrase("speech transmission index at several seats, with the noise of the room; 0 to 1"),
          planned="reverberation"),
    Topic("audio", phrase("No hum, no buzz, little hiss: everything open and nothing played"), "speakers", "",
          ("audio-on-mixed-supplies", "lift-by-two", "unbalanced-too-long"), (),
          phrase("level meter, A-weighted, quiet room; dB"), phrase("listen at each box"), "background"),
    Topic("audio", phrase("Nothing rattles or distorts at the level of the show"), "speakers", "subs", (), (), "",
          phrase("stepped tones and low band noise, begun quiet: write down which frequency rattles, and where")),
    Topic("audio", phrase("Levels fit from stage to stage: nothing clips before the next"), "speakers", "",
          ("level-structure", "line-into-mic-without-pad", "mic-level-into-line"), ("speakers",),
          phrase("meters of the desk and amplifiers with the 1 kHz tone; dB")),
    Topic("audio", phrase("Limiters and protection are set"), "amplifiers", "",
          ("limiter-missing", "amp-too-large", "amp-too-small"), ("routing", "speakers"), "",
          phrase("read each setting against the plan")),
    Topic("audio", phrase("Feedback stays away at working level"), "inputs", "", ("feedback-margin",
          "behind-microphone"), ("speakers",), "", phrase("open the microphones of the show together, raise slowly")),
    Topic("audio", phrase("Each monitor mix is heard from its own boxes, and the front is not in it"), "monitors",
          "monitors", ("main-in-monitor", "monitor-after-fader", "monitor-at-audience"), ("routing",)),
    Topic("audio", phrase("Feeds, recorders and hearing assistance get their signal at the right level"), "feeds",
          "feeds", ("orphan-output", "shared-output"), ("routing",), phrase("level at the far end, 1 kHz tone; dBu")),
    Topic("audio", phrase("Each input arrives on its channel, with phantom power where it is wanted"), "inputs",
          "lines", ("channel-without-source", "double-patched-input", "phantom-missing", "phantom-unwanted",
                    "unheard-source"), ("patch",)),
    Topic("cabling", phrase("Each cable runs between the sockets of the schedule"), "", "every",
          ("port-taken", "unknown-port", "wrong-direction", "block-patch-break"), ("patch",)),
    Topic("cabling", phrase("Conductors are whole and not exchanged"), "", "", (), (),
          phrase("cable tester on each cable before it is laid: label, result")),
    Topic("cabling", phrase("Connectors fit, and each cable is of the kind for its signal"), "", "",
          ("connector-mismatch", "wrong-cable", "speaker-level-into-line", "line-into-speaker"), ("patch",)),
    Topic("cabling", phrase("No cable is longer than its signal bears"), "", "",
          ("cable-too-long", "network-cable-too-long", "unbalanced-too-long", "speaker-cable-loss", "damping-low"),
          ("patch",)),
    Topic("cabling", phrase("Loudspeaker lines show the impedance that is planned"), "amplifiers", "",
          ("amp-underload", "mixed-load", "bridge-misuse"), ("speakers",),
          phrase("impedance meter at each amplifier output, amplifier off; Ω"), planned="loads"),
    Topic("cabling", phrase("Both ends of every cable carry its label"), "", "", ("duplicate-label",), ("labels",), "",
          phrase("read them against the cable schedule")),
    Topic("cabling", phrase("Network links carry the traffic"), "network", "", ("box-not-joined",
          "network-cable-too-long"), ("patch",),
          phrase("network cable tester; link lights, speed and error counts of each port")),
    Topic("cabling", phrase("Cables bear no strain, are covered where people walk, and bend no tighter than allowed"),
          "", "", (), (), "", phrase("walk every run")),
    Topic("electrical", phrase("No circuit is loaded beyond what it bears"), "mains", "", ("circuit-overload",
          "circuit-unknown", "circuit-twice"), ("power",), phrase("clamp meter on each circuit, loud music; A")),
    Topic("electrical", phrase("Voltage is right at the outlets, also under load"), "mains", "", ("voltage-drop",),
          ("power",), phrase("voltmeter, by competent people; V"), planned="volts"),
    Topic("electrical", phrase("Phases are loaded evenly"), "phases", "", ("phase-unbalanced",), ("power",),
          phrase("clamp meter on each phase and the neutral; A")),
    Topic("electrical", phrase("Protective earth, residual-current devices and polarity of outlets"), "mains", "",
          ("lift-by-two",), (), phrase("installation tester, by licensed people; their record goes with this one")),
    Topic("electrical", phrase("Units are switched on and off in an order that bangs nothing"), "mains", "", (),
          ("power",), "", phrase("switch through once, everything turned down")),
    Topic("electrical", phrase("Racks stay cool"), "racks", "", ("rack-no-air",), ("power", "rack"),
          phrase("thermometer in the rack, its warmest place, after an hour of use; °C inside and outside")),
    Topic("electrical", phrase("What is mounted or hung is held, with a second suspension"), "hung", "",
          ("hang-without-safety", "stand-overload", "below-head-height"), ("speakers",), "",
          phrase("inspected by competent people; their record goes with this one")),
    Topic("wireless", phrase("Frequencies lie in a band that is allowed, with a licence where one is asked for"),
          "radio", "", ("radio-out-of-band",), ("radio",), "", phrase("look at the licence")),
    Topic("wireless", phrase("Frequencies keep apart, and no product of two or three falls on another"), "radio", "",
          ("radio-overlap", "radio-intermodulation"), ("radio",)),
    Topic("wireless", phrase("The place is free of others on these frequencies"), "radio", "", (), ("radio",),
          phrase("scan on the day, every transmitter off; dBm")),
    Topic("wireless", phrase("Reception holds wherever the transmitters go, all of them on"), "radio", "", (), (),
          phrase("receiver meters while each transmitter is walked over the stage and the room; dBm")),
    Topic("wireless", phrase("A receiver whose transmitter is off stays silent; batteries last the show"), "radio", "",
          (), (), "", phrase("switch each off once; note the hours of a full charge")),
    Topic("documentation", phrase("The drawing of the system shows what was built"), "", "", (), ("index", "routing"),
          "", phrase("compare on site")),
    Topic("documentation", phrase("Patch, cable schedule and rack drawings show what was built"), "", "", (),
          ("patch", "labels"), "", phrase("compare on site")),
    Topic("documentation", phrase("Settings of desk, processors and amplifiers are written down"), "", "", (),
          ("routing",), "", phrase("save the files of the units beside the plan")),
    Topic("documentation", phrase("The equipment is listed, with serial numbers"), "", "", (), ("pull-list",), "", "",
          "serials"),
    Topic("documentation", phrase("The tests are on record: when, by whom, with what result"), "", "every",
          ("stale-walk-test",), (), phrase("name, make and calibration of the instruments used")),
    Topic("documentation", phrase("What was left as it is has a reason"), "", "", ("exception-without-reason",
          "unused-exception"), ("checks",), planned="accepted"),
    Topic("documentation", phrase("A stranger can run it: what is where, limits, whom to ask"), "", "", (),
          ("ten-minutes",), "", phrase("hand it over to somebody, and let them ask")),
    Topic("other", phrase("Picture, control, lighting and conferencing"), "never"),
)  # fmt: skip
