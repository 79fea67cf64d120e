"""The short code of every physical cable: what is printed on both its ends, called over the radio, typed into a field.

A cable with a label of its own (`label W7`) that no other cable bears is called by it. Any other gets a letter for what
it carries and five characters made from the names of its two ends, so that its code depends on nothing else: no cable
that is added, taken out or moved in the file changes it. Should two cables get the same five (with 200 cables of one
letter about one plan in 400, by the birthday problem), each gets as many more from the same source as tell them apart;
a label printed before then still begins the new code, and leads to both. The ends count in either direction.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Mapping
from types import MappingProxyType
from typing import Final

from rigbook.plan.model import Cable, Plan

LETTERS: Final = MappingProxyType(
    {"speaker": "S", "100 V line": "V", "network": "N", "digital": "D", "radio": "R", "mains": "P"}
)
"""What a cable carries, by the first letter of its code; anything else is a signal line."""
LINE: Final = "L"
ALPHABET: Final = "23456789CDFGHJKMNPQRTVWX"
"""No two that look alike (0 O, 1 I L, 5 S, 8 B, 2 Z: the figure is kept), and no vowels, which would make words."""
LENGTH: Final = 5


def codes(plan: Plan) -> Mapping[str, str]:
    """The code of each sheath, in plan order."""
    sheaths: dict[str, Cable] = {}
    for cable in plan.cables:
        sheaths.setdefault(cable.sheath, cable)
    own: dict[str, list[str]] = {}
    for name, cable in sheaths.items():
        own.setdefault(bare(cable.label), []).append(name)
    out = {names[0]: sheaths[names[0]].label for label, names in own.items() if label and len(names) == 1}
    taken = {bare(label) for label in out.values()}
    derived = {name: _letter(cable) + _spell(name) for name, cable in sheaths.items() if name not in out}
    order = sorted(derived, key=lambda name: derived[name])
    for at, name in enumerate(order):
        # of all codes, those beside it in order have the longest beginning in common with it
        beside = [derived[other] for other in (*order[max(at - 1, 0) : at], *order[at + 1 : at + 2])]
        out[name] = _shown(derived[name][: _needed(derived[name], beside, taken)])
    return {name: out[name] for name in sheaths}


def bare(text: str) -> str:
    """A code as it is compared: capitals and figures only."""
    return "".join(c for c in text.upper() if c.isalnum())


def _letter(cable: Cable) -> str:
    return LETTERS.get(str(cable.kind.get("carries")) if cable.kind else "", LINE)


def _spell(sheath: str) -> str:
    """Characters from the names of the ends, in either direction; after the first five, from the cable as typed."""
    ends = " <> ".join(sorted(sheath.split(" -> ")))
    return _characters(ends)[:LENGTH] + _characters(sheath)


def _characters(text: str) -> str:
    number = int.from_bytes(hashlib.sha256(text.encode("utf-8")).digest(), "big")
    out = ""
    for _ in range(24):
        number, digit = divmod(number, len(ALPHABET))
        out += ALPHABET[digit]
    return out


def _needed(spelt: str, others: Iterable[str], taken: set[str]) -> int:
    """Characters, the letter included, that tell a code from every other one."""
    length = 1 + LENGTH
    for other in others:
        while length < len(spelt) and spelt[:length] == other[:length]:
            length += 1
    while length < len(spelt) and spelt[:length] in taken:
        length += 1
    return length


def _shown(code: str) -> str:
    """In two groups, as it is read aloud: `S4K-D7M`."""
    return f"{code[:3]}-{code[3:]}"
