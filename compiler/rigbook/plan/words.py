"""Families of kinds, and names to choose from, as findings say them."""

from __future__ import annotations

from collections.abc import Iterable
from types import MappingProxyType
from typing import Final

from rigbook.text.phrase import either, phrase

FAMILIES: Final = MappingProxyType(
    {
        "desk": phrase("desk"),
        "stage box": phrase("stage box"),
        "splitter": phrase("splitter"),
        "tie line": phrase("tie line"),
        "processor": phrase("processor"),
        "amplifier": phrase("amplifier"),
        "speaker": phrase("speaker"),
        "powered speaker": phrase("powered speaker"),
        "microphone": phrase("microphone"),
        "di": phrase("di"),
        "line source": phrase("line source"),
        "radio": phrase("radio"),
        "player": phrase("player"),
        "recorder": phrase("recorder"),
        "feed": phrase("feed"),
        "stand": phrase("stand"),
        "cable": phrase("cable"),
        "adaptor": phrase("adaptor"),
        "rack": phrase("rack"),
        "power distribution": phrase("power distribution"),
        "case": phrase("case"),
    }
)


def family_words(family: str) -> str:
    """A family of kinds as said in a sentence: `stage box`."""
    return FAMILIES.get(family, family)


def write_one_of(names: Iterable[str]) -> str:
    """A remedy that offers names: write `a` or `b`."""
    return phrase("write %(names)s", names=either(f"`{name}`" for name in names))
