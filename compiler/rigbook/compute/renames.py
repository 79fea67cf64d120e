"""Units that only have another name: of the same kind, plugged into the same neighbours by the same sockets."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Mapping, Set
from typing import Any

from rigbook.compute.things import Fact, Thing
from rigbook.plan.model import Plan, Unit
from rigbook.records import replace

Signature = tuple[str, frozenset[tuple[str, str, str]]]


def renames(old: Plan, new: Plan) -> dict[str, str]:
    """By the earlier name of a unit its later one, where no other unit could be meant; the same backwards.

    A unit with no cable is never taken for another: two microphones of a kind are alike.
    """
    lost, found = old.units.keys() - new.units.keys(), new.units.keys() - old.units.keys()
    if not lost or not found:
        return {}
    before = {n: _signature(old, old.units[n], lost) for n in sorted(lost)}
    after = {n: _signature(new, new.units[n], found) for n in sorted(found)}
    count = Counter(before.values()), Counter(after.values())
    there = {sign: name for name, sign in after.items()}
    out = {
        name: there[sign]
        for name, sign in before.items()
        if sign[1] and sign in there and count[0][sign] == count[1][sign] == 1
    }
    while strangers := [a for a, b in out.items() if _neighbours(old, a, out) != _neighbours(new, b, {})]:
        out = {a: b for a, b in out.items() if a not in strangers}
    place = {name: i for i, name in enumerate(new.units)}
    return dict(sorted(out.items(), key=lambda pair: place[pair[1]]))


def _signature(plan: Plan, unit: Unit, apart: Set[str]) -> Signature:
    """Kind, and for each cable its own socket and the far one; the name of a far unit that went or came is open."""
    return str(unit.record.get("kind") or ""), frozenset(_plugged(plan, unit.name, apart))


def _neighbours(plan: Plan, name: str, names: Mapping[str, str]) -> frozenset[tuple[str, str, str]]:
    """Sockets and what they are joined to, units that have another name by that."""
    return frozenset((own, names.get(far, far), port) for own, far, port in _plugged(plan, name, frozenset()))


def _plugged(plan: Plan, name: str, apart: Set[str]) -> Iterator[tuple[str, str, str]]:
    for cable in plan.cables:
        for own, far in ((cable.start, cable.end), (cable.end, cable.start)):
            if own.unit == name:
                yield own.port, "" if far.unit in apart else far.unit, far.port


def under_new_names(thing: Thing, names: Mapping[str, str]) -> Thing:
    """A thing of the earlier plan with its units and sockets called as in the later one; free texts stay."""
    if not names:
        return thing
    every = "|".join(map(re.escape, sorted(names, key=len, reverse=True)))
    pattern = re.compile(rf"(?:(?<=^)|(?<=-> )|(?<=→ ))(?:{every})(?=$|/| ->| →)")

    def said(value: Any) -> Any:
        if isinstance(value, str):
            got = pattern.sub(lambda m: names[m[0]], value)
            return got if got != value else value  # a phrase remembers its message
        if isinstance(value, tuple | list):
            return tuple(said(v) for v in value)
        return value

    def key(name: str) -> str:
        unit = name.removeprefix("unit ")
        return f"unit {names[unit]}" if name.startswith("unit ") and unit in names else name

    facts = {key(k): Fact(said(f.words), said(f.bare), f.shown) for k, f in thing.facts.items()}
    own = names.get(thing.name, thing.name) if thing.group == "units" else said(thing.name)
    words = own if thing.words == thing.name else said(thing.words)
    return replace(thing, name=own, words=words, facts=facts)
