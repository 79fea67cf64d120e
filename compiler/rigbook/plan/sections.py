"""Racks, and the sections that carry no signal: what they name is looked up, what they say is kept as read."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import Any, Final

from rigbook.findings.finding import Finding, Label, Severity
from rigbook.findings.place import Span
from rigbook.findings.suggest import meant, near
from rigbook.language.record import Entry, Record
from rigbook.language.values.names import SocketRef, place_of, spoken
from rigbook.language.values.positions import Position, Turn
from rigbook.plan.draft import Draft
from rigbook.plan.gear import Gear
from rigbook.plan.model import Bus, Channel, Rack, Unit
from rigbook.plan.radios import radio_channels
from rigbook.plan.sockets import Sockets
from rigbook.plan.words import write_one_of
from rigbook.records import replace
from rigbook.text.phrase import phrase

Buses = Mapping[tuple[str, str], Bus]

SUPPLY: Final = phrase("supply")
UNIT_OR_KIND: Final = phrase("unit or kind")
THING: Final = phrase("thing")
PLACE: Final = phrase("place")
AREA: Final = phrase("audience area")
RACK: Final = phrase("rack")
JOINER: Final = phrase("joiner")


def racks(draft: Draft, gear: Gear, sockets: Sockets) -> dict[str, Rack]:
    """Every rack with what sits in it, from the bottom up."""
    out = {}
    for name, item in draft.sections.get("racks", {}).items():
        if not isinstance(item.value, Record):
            continue
        record = item.value
        kind = gear.find(record.get("kind"), record.at("kind"), ("rack",), RACK) if record.get("kind") else None
        sides = []
        for side in ("front", "rear"):
            rows = []
            for entry in record.get(side, ()):
                if entry.value is None or entry.value.unit in draft.removed_units:
                    continue
                if entry.value.unit and sockets.unit(entry.value.unit, entry.value.span) is None:
                    continue
                rows.append((int(entry.name), entry.value))
            sides.append(tuple(sorted(rows, key=lambda r: r[0])))
        out[name] = Rack(name, kind, sides[0], sides[1], item.span, record)
    return out


def sections(draft: Draft) -> dict[str, Any]:
    """Merged values of the sections that need no resolving, by their key."""
    out: dict[str, Any] = dict(draft.whole)
    for name in ("contacts", "notes", "desk-notes", "stock"):
        items = draft.sections.get(name, {})
        out[name] = tuple(Entry(i.name, i.span, i.value) for i in items.values() if i.value is not None)
    out["walk-tests"] = tuple(v for v, _ in draft.lists.get("walk-tests", ()))
    return out


def references(
    draft: Draft,
    gear: Gear,
    sockets: Sockets,
    units: Mapping[str, Unit],
    buses: Buses,
    channels: tuple[Channel, ...],
) -> None:
    """Look up every name that carries no signal. Their findings go where those of the sockets do."""
    _power(draft, sockets)
    radio_channels(draft, gear, sockets)
    _stock(draft, gear)
    _labels(draft, sockets, units)
    _notes(draft, sockets, buses, channels)
    _places(draft, sockets, units, channels)


def _power(draft: Draft, sockets: Sockets) -> None:
    power = draft.whole.get("power")
    if not isinstance(power, Record):
        return
    supplies = [e.name for e in power.get("supplies", ())]
    circuits = []
    for entry in power.get("circuits", ()):
        if isinstance(entry.value, Record):
            entry = replace(entry, value=_circuit(entry.value, supplies, draft, sockets))
        circuits.append(entry)
    _units(power.get("order", ()), power.at("order"), draft, sockets)
    if circuits:
        # what was nearly right is read as meant from here on
        draft.whole["power"] = replace(power, values={**power.values, "circuits": tuple(circuits)})


def _circuit(record: Record, supplies: list[str], draft: Draft, sockets: Sockets) -> Record:
    """A circuit with the names that were meant. A key whose name is like no other counts as one not read."""
    values, lost = dict(record.values), set(record.broken)
    if "feeds" in values:
        values["feeds"], whole = _units(values["feeds"], record.at("feeds"), draft, sockets)
        lost |= set() if whole else {"feeds"}
    supply = record.get("supply")
    if supply and supply not in supplies:
        _nothing(SUPPLY, str(supply), record.at("supply"), supplies, phrase("name it under `supplies:`"), sockets)
        close = meant(str(supply), supplies)
        values["supply"] = close or supply
        lost |= set() if close else {"supply"}
    return replace(record, values=values, broken=frozenset(lost))


def _units(names: Iterable[str], otherwise: Span, draft: Draft, sockets: Sockets) -> tuple[tuple[str, ...], bool]:
    """The names with the units that were meant, and whether each could be found."""
    out, whole = [], True
    for name in names:
        unit = None
        if name not in draft.removed_units:
            unit = sockets.unit(str(name), place_of(name, otherwise))
            whole &= unit is not None
        out.append(name if unit is None or unit.name == name else unit.name)
    return tuple(out), whole


def _stock(draft: Draft, gear: Gear) -> None:
    for item in draft.sections.get("stock", {}).values():
        gear.find(item.name, item.span)
        joiner = item.value.get("joiner") if isinstance(item.value, Record) else None
        if joiner:
            gear.find(str(joiner), item.value.at("joiner"), ("adaptor",), JOINER)


def _labels(draft: Draft, sockets: Sockets, units: Mapping[str, Unit]) -> None:
    """Units and kinds whose sockets have a pitch of their own."""
    labels = draft.whole.get("labels")
    known = [*units, *dict.fromkeys(u.kind.name for u in units.values() if u.kind)]
    for entry in labels.get("pitches", ()) if isinstance(labels, Record) else ():
        if entry.name not in known and entry.name not in draft.removed_units:
            _nothing(
                UNIT_OR_KIND, entry.name, entry.span, known, phrase("name a unit of the plan, or its kind"), sockets
            )


def _notes(draft: Draft, sockets: Sockets, buses: Buses, channels: tuple[Channel, ...]) -> None:
    known = [*sockets.units, *draft.sections.get("racks", ()), *(name for _, name in buses)]
    known += [n for c in channels for n in (spoken(c.name), f"channel-{c.number}")]
    for item in draft.sections.get("notes", {}).values():
        about = item.value.get("about") if isinstance(item.value, Record) else None
        if isinstance(about, SocketRef):
            if about.unit not in draft.removed_units:
                sockets.unit(about.unit, item.value.at("about"))
        elif about and about not in known and about not in draft.removed_units:
            fix = phrase("name a unit, a rack, a bus, a channel or a socket")
            _nothing(THING, str(about), item.value.at("about"), known, fix, sockets)


def _places(draft: Draft, sockets: Sockets, units: Mapping[str, Unit], channels: tuple[Channel, ...]) -> None:
    """Places by name, what boxes aim at, support and cover."""
    named = draft.sections.get("places", {})
    places = [*named, *units]
    for name, position, span in _positions(draft, units, channels):
        if position.place and (position.place not in places or position.place == name):
            known = [p for p in places if p != name]
            _nothing(PLACE, position.place, span, known, phrase("name it under `places:`"), sockets)
    targets = [*places, *(spoken(c.name) for c in channels)]
    room = draft.whole.get("room")
    audience = room.get("audience", ()) if isinstance(room, Record) else ()
    _corners(audience, sockets)
    areas = [e.name for e in audience]
    for unit in units.values():
        record = unit.record
        aim = record.get("aim")
        if isinstance(aim, Turn) and aim.target and aim.target not in targets:
            _nothing(
                PLACE,
                aim.target,
                record.at("aim").within(3, len(aim.target)),
                targets,
                phrase("name it under `places:`"),
                sockets,
            )
        if record.get("supports"):
            sockets.unit(str(record.get("supports")), record.at("supports"))
        for area in record.get("covers", ()):
            if area not in areas:
                span = place_of(area, record.at("covers"))
                _nothing(AREA, str(area), span, areas, phrase("name it under `audience:`"), sockets)


def _corners(audience: Iterable[Entry], sockets: Sockets) -> None:
    """A rectangle has two corners: with one alone there is nothing that levels could be worked out for."""
    for area in audience:
        said = {"from", "to", "outline"} & (area.value.values.keys() | area.value.broken) if area.value else ()
        if len(said) == 1 and "outline" not in said:
            key, other = ("to", "from") if "from" in said else ("from", "to")
            message = phrase(
                "the audience area `%(name)s` has `%(other)s:` and no `%(key)s:`", name=area.name, other=other, key=key
            )
            fix = phrase("add the corner across, such as `%(line)s`", line=f"{key}: 5 m right 14 m out")
            sockets.findings.append(Finding("missing-key", Severity.ERROR, message, Label(area.span), remedy=fix))


def _positions(
    draft: Draft, units: Mapping[str, Unit], channels: tuple[Channel, ...]
) -> Iterator[tuple[str, Position, Span]]:
    for item in draft.sections.get("places", {}).values():
        if isinstance(item.value, Position):
            yield item.name, item.value, item.span
    things = [(u.name, u.record) for u in units.values()] + [("", c.record) for c in channels]
    things += [("", i.value) for i in draft.sections.get("racks", {}).values() if isinstance(i.value, Record)]
    for name, record in things:
        position = record.get("at")
        if isinstance(position, Position):
            yield name, position, record.at("at")
    room = draft.whole.get("room")
    mix = room.get("mix-position") if isinstance(room, Record) else None
    if isinstance(room, Record) and isinstance(mix, Position):
        yield "", mix, room.at("mix-position")


def _records(entries: Iterable[Entry]) -> Iterator[Record]:
    yield from (e.value for e in entries if isinstance(e.value, Record))


def _nothing(what: str, name: str, span: Span, known: Iterable[str], fix: str, sockets: Sockets) -> None:
    close = near(name, known)
    if close:
        fix = write_one_of(close)
    _unknown(sockets, span, phrase("there is no %(what)s `%(name)s`", what=what, name=name), fix, name)


def _unknown(sockets: Sockets, span: Span, message: str, remedy: str, name: str) -> None:
    finding = Finding("unknown-name", Severity.ERROR, message, Label(span), remedy=remedy, objects=frozenset({name}))
    sockets.findings.append(finding)
