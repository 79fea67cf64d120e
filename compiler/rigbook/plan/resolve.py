"""A draft to a plan: every name looked up, every default filled in."""

from __future__ import annotations

from types import MappingProxyType
from typing import Final

from rigbook.findings.finding import Finding
from rigbook.language.record import Record
from rigbook.language.values.names import SocketRef
from rigbook.plan import sections
from rigbook.plan.cables import cables
from rigbook.plan.desks import buses_of, by_desk, finding, insert_of, known_sends, of_desks, outputs_of
from rigbook.plan.draft import Draft
from rigbook.plan.gear import Gear
from rigbook.plan.model import Acceptance, Bus, Channel, Kind, Plan, Unit
from rigbook.plan.once import once
from rigbook.plan.processing import processing
from rigbook.plan.sockets import Sockets, by_unit
from rigbook.plan.switches import switched
from rigbook.text.phrase import phrase

STAND: Final = phrase("stand")
SOURCE_FAMILIES = MappingProxyType({"mic": ("microphone", "radio"), "di": ("di",), "line": ("line source", "player")})
SOURCE_WORDS = MappingProxyType({"mic": phrase("microphone"), "di": phrase("DI"), "line": phrase("line source")})


def resolve(draft: Draft) -> tuple[Plan, list[Finding]]:
    """Look every name up. What could not be found has its finding and is left out, or read as the name meant."""
    findings: list[Finding] = []
    own = {n: (i.span, i.value) for n, i in draft.sections.get("kinds", {}).items() if isinstance(i.value, Record)}
    gear = Gear(own, findings)
    for name in own:
        if name in gear.shipped:
            fix = phrase("give your kind a name of its own, such as `%(name)s`", name=f"our-{name}")
            findings.append(
                finding(
                    "kind-taken", own[name][0], phrase("`%(name)s` is a kind of the shipped library", name=name), fix
                )
            )
    units = _units(draft, gear)
    sockets = Sockets(units, findings)
    desks = [u.name for u in units.values() if u.family == "desk" and not u.spare]
    buses = buses_of(draft, desks, sockets, findings)
    outputs = outputs_of(draft, desks, sockets, buses, findings)
    channels = _channels(draft, desks, sockets, gear, findings)
    wired, changes = cables(draft, sockets, gear)
    racks = sections.racks(draft, gear, sockets)
    exceptions = tuple(
        Acceptance(str(r.get("check")), str(r.get("at")), str(r.get("reason", "")), r.span)
        for r, _ in draft.lists.get("exceptions", ())
        if not r.broken & {"check", "at"}
    )
    sections.references(draft, gear, sockets, units, buses, channels)
    plan = Plan(
        record=draft.top,
        files=draft.files,
        show=draft.titles.get("show", ""),
        venue=draft.titles.get("venue", ""),
        kinds=MappingProxyType(gear.used),
        units=MappingProxyType(units),
        channels=channels,
        buses=MappingProxyType(buses),
        outputs=outputs,
        cables=wired,
        racks=MappingProxyType(racks),
        places=MappingProxyType({n: i.value for n, i in draft.sections.get("places", {}).items() if i.value}),
        sections=MappingProxyType(sections.sections(draft)),
        changes=(*draft.changes, *changes),
        exceptions=exceptions,
        unresolved=frozenset(sockets.unresolved),
        language=draft.titles.get("language", "en"),
    )
    return plan, once(by_unit(findings, units), units, buses)


def _units(draft: Draft, gear: Gear) -> dict[str, Unit]:
    out = {}
    for name, item in draft.sections.get("units", {}).items():
        record = (
            item.value if isinstance(item.value, Record) else Record("unit", item.span, {}, {}, frozenset({"kind"}))
        )
        kind = gear.find(record.get("kind"), record.at("kind")) if record.get("kind") else None
        for key, families in (("stand", ("stand",)),):
            if record.get(key):
                gear.find(record.get(key), record.at(key), families, STAND)
        out[name] = switched(Unit(name, kind, item.span, record, item.origin), gear.findings)
    return out


def _source(record: Record, key: str, gear: Gear) -> Kind | None:
    return gear.find(record.get(key), record.at(key), SOURCE_FAMILIES[key], SOURCE_WORDS[key])


def _channels(
    draft: Draft, desks: list[str], sockets: Sockets, gear: Gear, findings: list[Finding]
) -> tuple[Channel, ...]:
    buses: dict[tuple[str, str], Bus] = {}
    for desk, name, item in by_desk(draft, "buses", desks, Sockets(sockets.units)):
        record = item.value if isinstance(item.value, Record) else Record("bus", item.span, {}, {})
        buses[desk, name] = Bus(
            desk, name, "", bool(record.get("stereo")), (), "", processing(record), item.span, record
        )
    named = of_desks(buses)
    out = []
    for desk, number, item in by_desk(draft, "inputs", desks, sockets):
        if not isinstance(item.value, Record):
            continue
        record = item.value
        ref: SocketRef | None = record.get("from")
        plug: SocketRef | None = record.get("plugged")
        listens = tuple(sockets.ports(ref, "out", "mic", panel="in")) if ref else ()
        plugged = tuple(sockets.ports(plug, "in", "mic")) if plug else listens
        # a DI and the instrument on it are both looked up; the signal begins at the first
        kinds = {key: _source(record, key, gear) for key in SOURCE_FAMILIES if record.get(key)}
        key = next(iter(kinds), "")
        kind = kinds.get(key)
        if record.get("stand"):
            gear.find(record.get("stand"), record.at("stand"), ("stand",), STAND)
        sends = known_sends(record.get("to", ()), named.get(desk, {}), findings)
        stereo = bool(record.get("stereo", len(listens) == 2))
        out.append(
            Channel(
                desk,
                int(number),
                str(record.get("name", f"channel {number}")),
                listens,
                plugged,
                kind,
                key,
                sends,
                stereo,
                item.span,
                record,
                item.origin,
                insert_of(record, sockets),
            )
        )
    return tuple(sorted(out, key=lambda c: (c.desk, c.number)))
