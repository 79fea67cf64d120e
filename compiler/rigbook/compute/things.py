"""A plan as things with facts: what one revision is held against another by. Nothing here knows where a thing is typed.

A thing is a channel, a bus, an output, a physical cable, a unit, a rack, or an entry or group of any other section. A
fact has a key (what it is about), the words for it, its value without places and wording, and the value as printed.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from types import MappingProxyType
from typing import Any, Final

from rigbook.compute.thing_words import NAMES, SECTIONS, WORDS
from rigbook.language.record import Entry, Record
from rigbook.language.values.filters import Filter
from rigbook.language.values.names import SocketRef
from rigbook.plan.model import Bus, Cable, Channel, Output, Plan, Rack, Unit
from rigbook.records import fields, frozen
from rigbook.text.phrase import joined, phrase
from rigbook.text.tree import Scalar
from rigbook.units.quantity import Quantity

SINGLE: Final = ("room", "power", "radio", "limits", "labels", "published")
"""Sections that are one group of keys."""
NAMED: Final = ("contacts", "notes", "desk-notes", "stock")
"""Sections of entries that people read."""
WITHIN: Final = MappingProxyType({"power": ("supplies", "circuits"), "radio": ("channels",)})
"""Groups of names in those sections that are things of their own."""
TOP: Final = ("show", "venue", "revision", "date", "doors", "length", "target-level", "running-order", "language")


@frozen
class Fact:
    """One fact of a thing."""

    words: str
    bare: Any
    """The value without places and wording: two revisions are compared by it."""
    shown: str


Facts = Mapping[str, Fact]


@frozen
class Thing:
    """Something that a plan is made of."""

    group: str
    name: str
    """Names it within its group, in one revision."""
    words: str
    facts: Facts


def things(plan: Plan) -> tuple[Thing, ...]:
    """Everything that a plan says, in the order of its sections."""
    return tuple(_things(plan))


def _things(plan: Plan) -> Iterator[Thing]:
    top = {k: plan.record.get(k) for k in TOP if plan.record.get(k) is not None}
    yield Thing("plan", "", "", _flat(top))
    several = len({desk for desk, _ in plan.buses} | {c.desk for c in plan.channels}) > 1
    for channel in plan.channels:
        words = phrase("channel %(number)s %(name)s", number=channel.number, name=channel.name)
        yield Thing("inputs", f"{channel.desk} {channel.number}", _on(words, channel.desk, several), _channel(channel))
    for bus in plan.buses.values():
        words = phrase("bus %(name)s", name=bus.name)
        yield Thing("buses", f"{bus.desk} {bus.name}", _on(words, bus.desk, several), _bus(bus))
    for output in plan.outputs:
        words = phrase("output %(name)s", name=output.name)
        yield Thing("outputs", f"{output.desk} {output.name}", _on(words, output.desk, several), _output(output))
    sheaths: dict[str, list[Cable]] = {}
    for cable in plan.cables:
        sheaths.setdefault(cable.sheath, []).append(cable)
    for sheath, lines in sheaths.items():
        yield Thing("cables", sheath, sheath.replace(" -> ", " → "), _cable(lines))
    for unit in plan.units.values():
        yield Thing("units", unit.name, unit.name, _unit(unit))
    for rack in plan.racks.values():
        yield Thing("racks", rack.name, phrase("rack %(name)s", name=rack.name), _rack(rack))
    for name, place in plan.places.items():
        yield Thing("places", name, phrase("place %(name)s", name=name), {"at": fact("at", place)})
    for kind in plan.kinds.values():
        if not kind.shipped:
            yield Thing("kinds", kind.name, phrase("kind %(name)s", name=kind.name), _flat(kind.record.values))
    yield from _sections(plan)


def _sections(plan: Plan) -> Iterator[Thing]:
    for section in SINGLE:
        record = plan.sections.get(section)
        if isinstance(record, Record):
            own = WITHIN.get(section, ())
            yield Thing(section, "", SECTIONS.get(section, section),
                        _flat({k: v for k, v in record.values.items() if k not in own}))  # fmt: skip
            for key in own:
                for entry in record.get(key, ()):
                    if isinstance(entry.value, Record):
                        words = phrase(NAMES[key], name=entry.name)
                        yield Thing(key, entry.name, words, _flat(entry.value.values))
    for section in NAMED:
        for entry in plan.sections.get(section, ()):
            if isinstance(entry, Entry):
                value = entry.value
                known = _flat(value.values) if isinstance(value, Record) else {"": fact("", value)}
                yield Thing(section, entry.name, entry.name, known)
    for accepted in plan.exceptions:
        name = f"{accepted.check} {accepted.at}"
        yield Thing("exceptions", name, name, {"reason": fact("reason", accepted.reason)})


def _on(words: str, desk: str, several: bool) -> str:
    return phrase("%(name)s of %(desk)s", name=words, desk=desk) if several else words


def _channel(channel: Channel) -> Facts:
    record = channel.record
    said = {k: v for k, v in record.values.items() if k not in ("name", "from", "plugged", "mic", "di", "line", "to")}
    out = dict(_flat(said))
    out["number"] = fact("number", channel.number)
    out["name"] = fact("name", channel.name)
    out["from"] = _names(phrase("listens to"), (s.id for s in channel.sockets))
    out["plugged"] = _names(phrase("plugged into"), (s.id for s in channel.plugged))
    source = [str(record.get(k)) for k in ("mic", "di", "line") if record.get(k)]
    if source:
        out["source equipment"] = Fact(phrase("microphone or source"), tuple(source), joined(source))
    return out | dict(_sends(record))


def _sends(record: Record) -> Iterator[tuple[str, Fact]]:
    for send in record.get("to", ()):
        to = f"{send.bus} {send.leg}".strip()
        level = send.level.value if send.level else 0.0
        shown = phrase("off") if send.off else joined((_decibels(level), *((send.pick,) if send.pick else ())), " ")
        yield f"send {to}", Fact(phrase("send to %(bus)s", bus=to), (send.off, level, send.pick), shown)


def _decibels(level: float) -> str:
    return Quantity(level, "dB", "level", "", f"{level:+g}" if level else "0").page()


def _bus(bus: Bus) -> Facts:
    said = {k: v for k, v in bus.record.values.items() if k != "to"}
    return dict(_flat(said)) | {"role": fact("role", bus.role)} | dict(_sends(bus.record))


def _output(output: Output) -> Facts:
    said = {k: v for k, v in output.record.values.items() if k != "socket"}
    return dict(_flat(said)) | {"socket": _names(phrase("leaves by"), (s.id for s, _ in output.sockets))}


def _cable(lines: list[Cable]) -> Facts:
    first = lines[0]
    out = {"kind": fact("kind", first.kind_name)}
    for key, value in (("length", first.length), ("label", first.label), ("adaptor", first.adaptor)):
        if value:
            out[key] = fact(key, value)
    ends = sorted(c.name for c in lines)
    if len(ends) > 1:
        out["lines"] = Fact(phrase("lines"), tuple(ends), joined(e.replace(" -> ", " → ") for e in ends))
    return out


def _unit(unit: Unit) -> Facts:
    said = {k: v for k, v in unit.record.values.items() if k != "kind"}
    return {"kind": fact("kind", str(unit.record.get("kind") or ""))} | dict(_flat(said))


def _rack(rack: Rack) -> Facts:
    """Its keys, with each unit by its place: a unit that is moved is one change."""
    out = dict(_flat({k: v for k, v in rack.record.values.items() if k not in ("front", "rear")}))
    for side, rows in (("front", rack.front), ("rear", rack.rear)):
        for low, item in rows:
            words = phrase("front, unit %(n)s", n=low) if side == "front" else phrase("rear, unit %(n)s", n=low)
            if item.unit:
                out[f"unit {item.unit}"] = Fact(item.unit, (side, low), words)
            else:
                out[f"{side} {low}"] = Fact(words, (item.filler, item.height), item.filler)
    return out


def _names(words: str, names: Iterable[str]) -> Fact:
    every = tuple(names)
    return Fact(words, every, joined(every))


def _flat(values: Mapping[str, Any], before: str = "") -> dict[str, Fact]:
    """The keys of a group; groups of names within it key by key: `settings out 1 low-cut`."""
    out: dict[str, Fact] = {}
    for key, value in values.items():
        name = f"{before} {key}".strip()
        if isinstance(value, Record):
            out |= _flat(value.values, name)
        elif isinstance(value, tuple) and value and all(isinstance(v, Entry) for v in value):
            for entry in value:
                inner = f"{name} {entry.name}"
                if isinstance(entry.value, Record):
                    out |= _flat(entry.value.values, inner)
                else:
                    words = joined((WORDS.get(name, name), entry.name), " ")
                    out[inner] = Fact(words, bare(entry.value), shown(entry.value))
        else:
            out[name] = fact(key, value, before)
    return {k: f for k, f in out.items() if f.bare not in (None, False, ())}


def fact(key: str, value: Any, before: str = "") -> Fact:
    """A fact from a value as read."""
    words, place = WORDS.get(key, key), before.removeprefix("settings ")
    return Fact(joined((place, words), ": ") if place else words, bare(value), shown(value))


def bare(value: Any) -> Any:
    """A value without its place in a file and without how it was typed: `15 m` and `1500 cm` are the same."""
    match value:
        case Quantity():
            return round(value.value, 9), value.dimension
        case Filter():
            return bare(value.frequency), value.type, value.slope
        case SocketRef():
            return value.unit, value.port
        case Scalar():
            return value.text.strip()
        case str():
            return str(value)
        case Record():
            return tuple(sorted((k, bare(v)) for k, v in value.values.items()))
        case Entry():
            return value.name, bare(value.value)
        case tuple() | list():
            return tuple(bare(v) for v in value)
    names = fields(value) if hasattr(type(value), "__match_args__") else ()
    told = [n for n in names if n != "span" and not n.endswith("_span")]
    return tuple(bare(getattr(value, n)) for n in told if n != "text" or told == ["text"]) if told else value


def shown(value: Any) -> str:
    """A value as printed."""
    match value:
        case True:
            return phrase("yes")
        case False | None:
            return phrase("no")
        case Quantity():
            return value.page()
        case SocketRef():
            return f"{value.unit}/{value.port}" if value.port else value.unit
        case Scalar():
            return " ".join(value.text.split())
        case Record():
            return joined(f"{k} {shown(v)}" for k, v in value.values.items())
        case Entry():
            return joined((value.name, shown(value.value)), ": ")
        case tuple() | list():
            return joined(shown(v) for v in value)
    return str(getattr(value, "text", value))
