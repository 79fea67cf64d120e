"""What is heard and seen, in words: for the page, for the terminal, and back from what a person types.

Every text is a whole sentence or a whole entry with named places for what differs; the page puts them in likewise.
"""

from __future__ import annotations

from types import MappingProxyType
from typing import Final

from rigbook.graph.rig import Rig
from rigbook.graph.words import node_words
from rigbook.walk import hear
from rigbook.walk.fault import RIGHT
from rigbook.walk.table import DARK, EXCHANGE, FADER, HEAR, LIGHT, LIT, PAIR, Seen

VALUES: Final = MappingProxyType(
    {
        "": "as it must",
        hear.SILENT: "silent",
        hear.SOUNDS: "sounds, must be silent",
        hear.QUIET: "too quiet",
        hear.LOUD: "too loud",
        hear.THIN: "thin, too little low end",
        hear.BOOMY: "boomy, too much low end",
        hear.DULL: "dull, too little above the low end",
        hear.BRIGHT: "too much above the low end",
        hear.HOLLOW: "hollow, they cancel",
        hear.FIRST_A: "the sound comes from the first",
        hear.FIRST_B: "the sound comes from the second",
        LIT: "lit",
        DARK: "dark",
        RIGHT: "now it is right",
        "loose": "a plug is loose",
        "exchanged": "exchanged",
        "wrong at": "in the wrong socket at {what}",
        "in": "in {what}",
        "off": "off",
        "muted": "{what} is off or muted",
        "turned down": "turned down",
        "mode": "the mode is {what}",
        "only": "{what} only",
        "closed to": "closed to {what}",
        "pre-fader to": "pre-fader to {what}",
        "post-fader to": "post-fader to {what}",
    }
)
"""Each outcome in words, a name from behind the bar in its place; what is not here is its own words."""
PLANNED: Final = MappingProxyType(
    {
        FADER: "as the fader says",
        EXCHANGE: "sounds",
        LIGHT: "as planned",
        "replace": "no change",
        "plugs": "as their labels say",
        "setting": "as planned",
    }
)
"""What is found as planned, by kind, where that is not `as it must`."""
FROM: Final = "the sound comes from {what}"
ORDERS: Final = MappingProxyType(
    {
        (HEAR, ""): "Play {step}. Listen at {what}.",
        (PAIR, ""): "Play {step}. Listen between {a} and {b}.",
        (FADER, ""): "Play {step}. Pull the fader down, listen at {what}.",
        (LIGHT, "channel"): "Play {step}. Look at the meter of {what}.",
        (LIGHT, "bus"): "Play {step}. Listen to {what} on headphones, or look at its meter.",
        (LIGHT, "socket"): "Play {step}. Look at the signal light of {what}.",
        (EXCHANGE, ""): "Levels down, exchange the cables {a} and {b} at {unit}. Play {step}, levels up slowly, "
        "listen at {box}. Put the cables back afterwards.",
        ("plugs", "cable"): "Read the labels of both plugs of {what}.",
        ("plugs", "lead"): "Read the label of the lead in {what}.",
        ("replace", "cable"): "Put a known good cable in place of {what}, then listen again.",
        ("replace", "lead"): "Put a known good lead in place of the one in {what}, then listen again.",
        ("replace", "source"): "Put a known good source with its own lead into {what}, then listen again.",
        ("replace", "box"): "Put a box that works in place of {what}, then listen again.",
        ("setting", "output"): "Look at the output {what} on the desk.",
        ("setting", "bus"): "Look at the bus {what} on the desk.",
        ("setting", "input"): "Look at the input of {what} on the desk.",
        ("setting", "sends"): "Look at the sends of {what} on the desk.",
        ("setting", "source"): "Look at the source of {what}.",
        ("setting", "front"): "Look at the front of {what}.",
        ("setting", "back"): "Look at the back of {what}.",
        ("setting", "socket"): "Look at the settings of {what}.",
        ("setting", "links"): "Look at the link lights of {what}.",
    }
)
"""A test as an order: what to play, what to look at; by kind and sort."""
SAID: Final = MappingProxyType(
    {
        HEAR: "{what} {value}",
        PAIR: "between {what} {value}",
        FADER: "with the fader down {value}: {what}",
    }
)
"""What was heard of several boxes."""
NOTHING: Final = "nothing sounds"
IN_STEP: Final = "in {step}: {what}"
AND_MORE: Final = "and in {count} more steps"
ALL_OF: Final = "all of {bus}"
AND: Final = "{a} and {b}"
BOX: Final = (hear.SILENT, hear.QUIET, hear.LOUD, hear.THIN, hear.BOOMY, hear.DULL, hear.BRIGHT)
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
    return SAID[kind].format(value=value, what=", ".join(names))


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
