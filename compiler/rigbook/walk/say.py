"""What is heard and seen, in words: for the page, for the terminal, and back from what a person types.

Every text is a whole sentence or a whole entry with named places for what differs; the page puts them in likewise.
"""

from __future__ import annotations

from types import MappingProxyType
from typing import Final

from rigbook.graph.rig import Rig
from rigbook.graph.words import node_words
from rigbook.text.phrase import joined, phrase
from rigbook.walk import hear
from rigbook.walk.fault import RIGHT
from rigbook.walk.table import DARK, EXCHANGE, FADER, HEAR, LIGHT, LIT, PAIR, Seen

VALUES: Final = MappingProxyType(
    {
        "": phrase("as it must"),
        hear.SILENT: phrase("silent"),
        hear.SOUNDS: phrase("sounds, must be silent"),
        hear.QUIET: phrase("too quiet"),
        hear.LOUD: phrase("too loud"),
        hear.THIN: phrase("thin, too little low end"),
        hear.BOOMY: phrase("boomy, too much low end"),
        hear.DULL: phrase("dull, too little above the low end"),
        hear.BRIGHT: phrase("too much above the low end"),
        hear.HUMS: phrase("hums"),
        hear.HOLLOW: phrase("hollow, they cancel"),
        hear.FIRST_A: phrase("the sound comes from the first"),
        hear.FIRST_B: phrase("the sound comes from the second"),
        LIT: phrase("lit"),
        DARK: phrase("dark"),
        RIGHT: phrase("now it is right"),
        "loose": phrase("a plug is loose"),
        "exchanged": phrase("exchanged"),
        "wrong at": phrase("in the wrong socket at {what}"),
        "in": phrase("in {what}"),
        "off": phrase("off"),
        "muted": phrase("{what} is off or muted"),
        "turned down": phrase("turned down"),
        "mode": phrase("the mode is {what}"),
        "only left": phrase("left only"),
        "only right": phrase("right only"),
        "not patched": phrase("not patched"),
        "switched out": phrase("switched out"),
        "pick-off wrong": phrase("pick-off wrong"),
        "polarity wrong": phrase("polarity wrong"),
        "mono": phrase("mono"),
        "48 V off": phrase("48 V off"),
        "pan left": phrase("panned left"),
        "pan right": phrase("panned right"),
        "low cut missing": phrase("low cut missing"),
        "low cut doubled": phrase("low cut doubled"),
        "high cut missing": phrase("high cut missing"),
        "high cut doubled": phrase("high cut doubled"),
        "delay missing": phrase("delay missing"),
        "closed to": phrase("closed to {what}"),
        "pre-fader to": phrase("pre-fader to {what}"),
        "post-fader to": phrase("post-fader to {what}"),
    }
)
"""Each outcome in words, a name from behind the bar in its place; what is not here is its own words."""
PLANNED: Final = MappingProxyType(
    {
        FADER: phrase("as the fader says"),
        EXCHANGE: phrase("sounds"),
        LIGHT: phrase("as planned"),
        "replace": phrase("no change"),
        "plugs": phrase("as their labels say"),
        "setting": phrase("as planned"),
    }
)
"""What is found as planned, by kind, where that is not `as it must`."""
FROM: Final = phrase("the sound comes from {what}")
ORDERS: Final = MappingProxyType(
    {
        (HEAR, ""): phrase("Play “{step}”. Listen at {what}."),
        (PAIR, ""): phrase("Play “{step}”. Listen between {a} and {b}."),
        (FADER, ""): phrase("Play “{step}”. Pull the fader down, listen at {what}."),
        (LIGHT, "channel"): phrase("Play “{step}”. Look at the meter of {what}."),
        (LIGHT, "bus"): phrase("Play “{step}”. Listen to {what} on headphones, or look at its meter."),
        (LIGHT, "socket"): phrase("Play “{step}”. Look at the signal light of {what}."),
        (EXCHANGE, ""): phrase(
            "Levels down, exchange the cables {a} and {b} at {unit}. Play “{step}”, levels up slowly, "
            "listen at {box}. Put the cables back afterwards."
        ),
        ("plugs", "cable"): phrase("Read the labels of both plugs of {what}."),
        ("plugs", "lead"): phrase("Read the label of the lead in {what}."),
        ("replace", "cable"): phrase("Mute it, put a known good cable in place of {what}, then listen again."),
        ("replace", "lead"): phrase("Mute it, put a known good lead in place of the one in {what}, then listen again."),
        ("replace", "source"): phrase(
            "Mute it, put a known good source with its own lead into {what}, then listen again."
        ),
        ("replace", "lift"): phrase(
            "Mute it, set the ground lift of the DI in {what} the other way, then listen again. "
            "Every protective earth stays connected."
        ),
        ("replace", "mains"): phrase(
            "Mute it, feed the mains of the source in {what} from the outlet that feeds what it is plugged into, then "
            "listen again. Every protective earth stays connected."
        ),
        ("replace", "insert"): phrase(
            "Levels down, switch the insert of {what} out on the desk, then listen again. Switch it back in afterwards."
        ),
        ("replace", "box"): phrase("Mute it, put a box that works in place of {what}, then listen again."),
        ("setting", "output"): phrase("Look at the output {what} on the desk: patch, mute, polarity, filters, delay."),
        ("setting", "bus"): phrase("Look at the bus {what} on the desk: mono, filters, delay."),
        ("setting", "insert"): phrase("Look at the insert of {what} on the desk: in, and its sockets."),
        ("setting", "input"): phrase("Look at the input of {what} on the desk: patch, 48 V, mute."),
        ("setting", "sends"): phrase("Look at the sends of {what} on the desk: level, pick-off, pan."),
        ("setting", "source"): phrase("Look at the source of {what}."),
        ("setting", "front"): phrase("Look at the front of {what}: power, mute, level, mode."),
        ("setting", "back"): phrase("Look at the back of {what}: power, level."),
        ("setting", "socket"): phrase("Look at the settings of {what}: filters, delay."),
        ("setting", "links"): phrase("Look at the link lights of {what}."),
    }
)
"""A test as an order: what to play, what to look at; by kind and sort."""
SAID: Final = MappingProxyType(
    {
        HEAR: phrase("{what} {value}"),
        PAIR: phrase("between {what} {value}"),
        FADER: phrase("with the fader down {value}: {what}"),
    }
)
"""What was heard of several boxes."""
NOTHING: Final = phrase("nothing sounds")
IN_STEP: Final = phrase("in {step}: {what}")
AND_MORE: Final = phrase("and in {count} more steps")
ALL_OF: Final = phrase("all of {bus}")
AND: Final = phrase("{a} and {b}")
BOX: Final = (hear.SILENT, hear.QUIET, hear.LOUD, hear.THIN, hear.BOOMY, hear.DULL, hear.BRIGHT, hear.HUMS)
"""What may be wrong with a box that must sound."""
BETWEEN: Final = (hear.HOLLOW, hear.FIRST_A, hear.FIRST_B)
"""What may be wrong between two boxes."""


def value_words(seen: Seen, value: str) -> str:
    """An outcome: `silent`, `lit`, `48 V off`; what is as planned says how that looks."""
    if seen.kind == PAIR and value in (hear.FIRST_A, hear.FIRST_B):
        return FROM.format(what=seen.subject.split("|")[value == hear.FIRST_B])
    if not value:
        return PLANNED.get(seen.kind, VALUES[""])
    word, _, name = value.partition("|")
    return VALUES.get(word, word).format(what=name)


def heard_words(kind: str, value: str, subjects: list[str]) -> str:
    """What was heard of several boxes: `sub-1, sub-2 silent`, `between a and b hollow, they cancel`."""
    names = [AND.format(a=a, b=b) if b else a for a, _, b in (s.partition("|") for s in subjects)]
    return SAID[kind].format(value=value, what=joined(names))


def order_of(rig: Rig, seen: Seen) -> tuple[str, str]:
    """The sentence for a test, and what is put in as `what`."""
    if seen.kind == LIGHT:
        words = node_words(rig, seen.subject)
        sort = next((s for s in ("channel", "bus") if words.startswith(f"{s} ")), "socket")
        return ORDERS[LIGHT, sort], words
    if (seen.kind, "") in ORDERS:
        return ORDERS[seen.kind, ""], seen.subject
    sort, _, name = seen.subject.partition("|")
    return ORDERS[seen.kind, sort], name


def probe_words(rig: Rig, seen: Seen, title: str) -> str:
    """A test as an order: what to play, what to look at."""
    order, what = order_of(rig, seen)
    return order.format(step=title, **_names(seen, what))


def _names(seen: Seen, what: str) -> dict[str, str]:
    """What stands in the places of a sentence."""
    return dict(zip(("a", "b", "unit", "box"), seen.subject.split("|"))) | {"what": what}
