"""A key that a group does not have: what is said of it, and the key that was probably meant."""

from __future__ import annotations

from collections.abc import Iterable
from types import MappingProxyType

from rigbook.findings.suggest import meant, near
from rigbook.language.reading import Reading
from rigbook.language.spoken import a_or_an
from rigbook.text.phrase import joined, phrase
from rigbook.text.tree import Mapping

OTHER_WORDS = MappingProxyType(
    {
        "channels": ("inputs",),
        "equipment": ("units",),
        "gear": ("units",),
        "devices": ("units",),
        "cables": ("wiring",),
        "cabling": ("wiring",),
        "mixes": ("buses",),
        "auxes": ("buses",),
        "people": ("contacts",),
        "hpf": ("low-cut",),
        "lpf": ("high-cut",),
        "eq": ("equaliser",),
        "48v": ("phantom",),
        "microphone": ("mic",),
        "position": ("at",),
        "place": ("at",),
        "type": ("kind", "is"),
        "inputs": ("ports",),
        "outputs": ("ports",),
    }
)
"""What is often typed for a key, and the keys that it may be."""


def meant_key(name: str, known: Iterable[str]) -> str:
    """The one key that an unknown name can be read as: another word for it, or a name nearer than every other."""
    return next((k for k in OTHER_WORDS.get(name.lower(), ()) if k in known), "") or meant(name, known)


def unknown_key(shape: str, known: list[str], name: str, node: Mapping, reading: Reading) -> str:
    """Report that a group named `shape`, with the keys `known`, has none of that name.

    The key that was probably meant comes back, which counts as broken; else the name as typed.
    """
    first, _, rest = name.partition(" ")
    at = node.keys[name]
    if first in known:
        message = phrase("a colon is missing after `%(first)s`", first=first)
        reading.fault("unknown-key", at, message, phrase("write `%(line)s`", line=f"{first}: {rest.strip()}"))
        return first
    close = tuple(k for k in OTHER_WORDS.get(name.lower(), ()) if k in known) or near(name, known)
    close = close or tuple(k for k in known if k in (f"{name.lower()}s", f"{name.lower()}es"))
    close = close or tuple(k for k in known if name.lower() == "bus" and k == "buses")
    if close:
        fix = phrase("write `%(line)s`", line=close[0])
    elif (above := _group_above(name, node)) and not at.column:
        fix = phrase("indent it if it belongs to `%(above)s:` above, else leave it out", above=above)
    else:
        fix = phrase("leave it out, or use one of %(names)s", names=joined(f"`{k}`" for k in known[:12]))
    message = phrase("%(shape)s has no key `%(name)s`", shape=a_or_an(shape), name=name)
    reading.fault("unknown-key", at, message, fix)
    return close[0] if close else name


def _group_above(name: str, node: Mapping) -> str:
    """The group of lines that ends right before a key; empty where a lone value stands there."""
    names = list(node.items)
    before = names[names.index(name) - 1] if names.index(name) else ""
    value = node.items.get(before)
    return before if isinstance(value, Mapping) and value.span.line > node.keys[before].line else ""
