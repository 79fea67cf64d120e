"""What is heard and seen, in words: for the page, for the terminal, and back from what a person types."""

from __future__ import annotations

from types import MappingProxyType
from typing import Final

from rigbook.graph.rig import Rig
from rigbook.graph.words import node_words
from rigbook.walk import hear
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
    }
)
BOX: Final = (hear.SILENT, hear.QUIET, hear.LOUD, hear.THIN, hear.BOOMY, hear.DULL, hear.BRIGHT)
"""What may be wrong with a box that must sound."""
BETWEEN: Final = (hear.HOLLOW, hear.FIRST_A, hear.FIRST_B)
"""What may be wrong between two boxes."""


def value_words(seen: Seen, value: str) -> str:
    """An outcome: `silent`, `lit`, `48 V off`; what is as planned says how that looks."""
    if seen.kind == PAIR and value in (hear.FIRST_A, hear.FIRST_B):
        return f"the sound comes from {seen.subject.split('|')[value == hear.FIRST_B]}"
    if value or seen.kind in (HEAR, PAIR):
        return VALUES.get(value, value)
    planned = {
        FADER: "as the fader says",
        EXCHANGE: "sounds",
        "replace": "no change",
        "plugs": "as their labels say",
        "setting": "as planned",
    }
    return planned.get(seen.kind, "as planned")


def seen_words(rig: Rig, seen: Seen) -> str:
    """What is listened to or looked at: `top-left`, `between sub-left and sub-right`, `the plugs of …`."""
    if seen.kind == HEAR:
        return seen.subject
    if seen.kind == PAIR:
        return "between {} and {}".format(*seen.subject.split("|"))
    if seen.kind == FADER:
        return f"{seen.subject} with the fader down"
    if seen.kind == LIGHT:
        return light_words(rig, seen.subject)
    if seen.kind == EXCHANGE:
        one, two, unit, box = seen.subject.split("|")
        return f"{box} with {one} and {two} exchanged at {unit}"
    if seen.kind == "plugs":
        return f"the labels of both plugs of {seen.subject}"
    if seen.kind == "replace":
        return f"a known good one in place of {seen.subject}"
    at_desk = seen.subject.startswith(("output ", "bus ", "input of ", "sends of "))
    return f"the settings of {seen.subject} on the desk" if at_desk else f"the {seen.subject}"


def light_words(rig: Rig, node: str) -> str:
    """A light, meter or pair of headphones: `the signal light of box/out 5`, `the meter of channel 7 Fiddle`."""
    words = node_words(rig, node)
    if words.startswith("channel "):
        return f"the meter of {words}"
    if words.startswith("bus "):
        return f"{words} on headphones or its meter"
    return f"the signal light of {words}"


def probe_words(rig: Rig, seen: Seen, title: str) -> str:
    """A test as an order: what to play, what to look at."""
    what = seen_words(rig, seen)
    if seen.kind == LIGHT:
        return f"Play {title}. Look at {what}."
    if seen.kind == HEAR:
        return f"Play {title}. Listen at {what}."
    if seen.kind in (PAIR, FADER):
        return f"Play {title}. Listen {'at ' if seen.kind == FADER else ''}{what}."
    if seen.kind == EXCHANGE:
        one, two, unit, box = seen.subject.split("|")
        return (
            f"Levels down, exchange the cables {one} and {two} at {unit}. Play {title}, levels up slowly, "
            f"listen at {box}. Put the cables back afterwards."
        )
    if seen.kind == "replace":
        return f"Put {what}, then listen again."
    if seen.kind == "plugs":
        return f"Read {what}."
    return f"Look at {what}."
