"""A draft to a plan: every name looked up, every default filled in.

long: one pass over the sections of a plan.
"""

from __future__ import annotations

from types import MappingProxyType
from typing import Any

from rigbook.findings.finding import Finding, Label, Severity
from rigbook.findings.place import Span
from rigbook.findings.suggest import near
from rigbook.language.grammar import Record
from rigbook.language.values.names import SocketRef
from rigbook.language.values.sends import leg
from rigbook.plan import sections
from rigbook.plan.cables import cables
from rigbook.plan.draft import Draft, Item
from rigbook.plan.gear import Gear
from rigbook.plan.model import (
    Acceptance,
    Bus,
    Channel,
    Kind,
    Output,
    Plan,
    Unit,
    processing,
)
from rigbook.plan.once import once
from rigbook.plan.sockets import Sockets, by_unit, listed
from rigbook.plan.switches import switched
from rigbook.records import replace

ROLE_BY_NAME = MappingProxyType({"main": "mains", "mains": "mains", "sub": "subs", "subs": "subs"})
SOURCE_FAMILIES = MappingProxyType({"mic": ("microphone", "radio"), "di": ("di",), "line": ("line source", "player")})
SOURCE_WORDS = MappingProxyType({"mic": "microphone", "di": "DI", "line": "line source"})


def resolve(draft: Draft) -> tuple[Plan, list[Finding]]:
    """Look every name up. What could not be found has its finding and is left out, or read as the name meant."""
    findings: list[Finding] = []
    own = {n: (i.span, i.value) for n, i in draft.sections.get("kinds", {}).items() if isinstance(i.value, Record)}
    gear = Gear(own, findings)
    for name in own:
        if name in gear.shipped:
            fix = f"give your kind a name of its own, such as `our-{name}`"
            findings.append(_finding("kind-taken", own[name][0], f"`{name}` is a kind of the shipped library", fix))
    units = _units(draft, gear)
    sockets = Sockets(units, findings)
    desks = [u.name for u in units.values() if u.family == "desk" and not u.spare]
    buses = _buses(draft, desks, sockets, findings)
    outputs = _outputs(draft, desks, sockets, buses, findings)
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


def _finding(
    check: str, span: Span, message: str, remedy: str, name: str = "", other: tuple[Label, ...] = ()
) -> Finding:
    objects = frozenset({name}) if name else frozenset()
    return Finding(check, Severity.ERROR, message, Label(span), other, remedy=remedy, objects=objects)


def _units(draft: Draft, gear: Gear) -> dict[str, Unit]:
    out = {}
    for name, item in draft.sections.get("units", {}).items():
        record = (
            item.value if isinstance(item.value, Record) else Record("unit", item.span, {}, {}, frozenset({"kind"}))
        )
        kind = gear.find(record.get("kind"), record.at("kind")) if record.get("kind") else None
        for key, families in (("stand", ("stand",)),):
            if record.get(key):
                gear.find(record.get(key), record.at(key), families, key)
        out[name] = switched(Unit(name, kind, item.span, record, item.origin), gear.findings)
    return out


def _by_desk(draft: Draft, section: str, desks: list[str], sockets: Sockets) -> list[tuple[str, str, Item]]:
    """(desk, name, item) of `section` and of each `section on DESK`."""
    out = []
    for key, items in draft.sections.items():
        base, on, desk = key.partition(" on ")
        if base != section or not items:
            continue
        first = next(iter(items.values()))
        if on:
            unit = sockets.unit(desk.strip(), first.span, "desk")
            name = unit.name if unit else desk.strip()
        elif len(desks) == 1:
            name = desks[0]
        else:
            name = next((u.name for u in sockets.units.values() if u.kind is None), "desk")
            if not desks and name not in sockets.units:
                fix = "name a desk under `units:`, such as `desk: desk-16`"
                sockets.findings.append(
                    _finding("unknown-name", first.span, f"there is no desk for these {section}", fix)
                )
                sockets.unresolved.add("desk")
            elif desks:
                fix = f"write `{section} on {desks[0]}:`"
                message = f"these {section} do not say which of the {len(desks)} desks they belong to"
                sockets.findings.append(_finding("desk-unsaid", first.span, message, fix))
                name = desks[0]
        out += [(name, n, i) for n, i in items.items()]
    return out


def _buses(draft: Draft, desks: list[str], sockets: Sockets, findings: list[Finding]) -> dict[tuple[str, str], Bus]:
    out: dict[tuple[str, str], Bus] = {}
    for desk, name, item in _by_desk(draft, "buses", desks, sockets):
        record = item.value if isinstance(item.value, Record) else Record("bus", item.span, {}, {})
        monitor = "monitor" if record.get("monitor-for") else ""
        role = record.get("role") or monitor or ROLE_BY_NAME.get(name, "feed")
        pick = record.get("sends") or ("pre" if role == "monitor" else "post")
        out[desk, name] = Bus(
            desk,
            name,
            str(role),
            bool(record.get("stereo", False)),
            record.get("to", ()),
            str(pick),
            processing(record),
            item.span,
            record,
            item.origin,
        )
    named = _of_desks(out)
    for bus in list(out.values()):
        kept = _known_sends(bus.sends, named.get(bus.desk, {}), findings)
        if kept != bus.sends:
            out[bus.desk, bus.name] = replace(bus, sends=kept)
    return out


def _of_desks(buses: dict[tuple[str, str], Bus]) -> dict[str, dict[str, Bus]]:
    """The buses of each desk, by name."""
    out: dict[str, dict[str, Bus]] = {}
    for (desk, name), bus in buses.items():
        out.setdefault(desk, {})[name] = bus
    return out


def _known_sends(sends: tuple[Any, ...], buses: dict[str, Bus], findings: list[Finding]) -> Any:
    """The sends whose bus exists; a near name is read as the bus that was meant."""
    kept = []
    for send in sends:
        bus = buses.get(send.bus)
        if bus is not None:
            if send.leg and not bus.stereo:
                fix = f"write `{send.bus}`, or give the bus `stereo: yes`"
                findings.append(
                    _finding("unknown-name", send.span, f"`{send.bus}` has no {send.leg} side", fix, send.bus)
                )
            kept.append(send)
            continue
        close = near(send.bus, buses)
        fix = f"write {' or '.join(f'`{c}`' for c in close)}" if close else _name_it(list(buses))
        place = send.span.within(0, len(send.bus)) if send.span.line == send.span.end_line else send.span
        findings.append(_finding("unknown-name", place, f"there is no bus `{send.bus}`", fix, send.bus))
        if close:
            kept.append(replace(send, bus=close[0]))
    return tuple(kept)


def _name_it(buses: list[str]) -> str:
    return f"name it under `buses:` (there are {listed(buses)})" if buses else "name it under `buses:`"


def _outputs(
    draft: Draft,
    desks: list[str],
    sockets: Sockets,
    buses: dict[tuple[str, str], Bus],
    findings: list[Finding],
) -> tuple[Output, ...]:
    out = []
    for desk, name, item in _by_desk(draft, "outputs", desks, sockets):
        typed = leg(name, item.span)
        bus = _bus_of(typed, desk, item, buses, findings)
        record = item.value if isinstance(item.value, Record) else Record("output", item.span, {}, {})
        found = [(s, ref.span) for ref in record.get("socket", ()) for s in sockets.ports(ref, "out", "line")]
        if bus is None:
            continue
        side = _side(typed, bus, item, findings)
        out.append(
            Output(
                desk,
                bus.name,
                side,
                tuple(found),
                str(record.get("pick-off", "post")),
                processing(record),
                item.span,
                record,
                item.origin,
            )
        )
    return tuple(out)


def _bus_of(
    typed: Any, desk: str, item: Item, buses: dict[tuple[str, str], Bus], findings: list[Finding]
) -> Bus | None:
    name = typed.bus
    bus = buses.get((desk, name))
    if bus is not None:
        return bus
    names = [n for d, n in buses if d == desk]
    close = near(name, names)
    fix = f"write {' or '.join(f'`{c}`' for c in close)}" if close else _name_it(names)
    findings.append(_finding("unknown-name", item.span.within(0, len(name)), f"there is no bus `{name}`", fix, name))
    return buses[desk, close[0]] if close else None


def _side(typed: Any, bus: Bus, item: Item, findings: list[Finding]) -> str:
    if bus.stereo and not typed.leg:
        fix = f"write `{bus.name} left` and `{bus.name} right`, or `{bus.name} mono` for the sum"
        findings.append(
            _finding(
                "leg-unsaid", item.span, f"`{bus.name}` is stereo, this output does not say which side", fix, bus.name
            )
        )
        return "mono"
    if not bus.stereo and typed.leg in ("left", "right"):
        fix = f"write `{bus.name}`, or give the bus `stereo: yes`"
        findings.append(_finding("unknown-name", item.span, f"`{bus.name}` has no {typed.leg} side", fix, bus.name))
        return ""
    return str(typed.leg)


def _source(record: Record, key: str, gear: Gear) -> Kind | None:
    return gear.find(record.get(key), record.at(key), SOURCE_FAMILIES[key], SOURCE_WORDS[key])


def _channels(
    draft: Draft, desks: list[str], sockets: Sockets, gear: Gear, findings: list[Finding]
) -> tuple[Channel, ...]:
    buses: dict[tuple[str, str], Bus] = {}
    for desk, name, item in _by_desk(draft, "buses", desks, Sockets(sockets.units)):
        record = item.value if isinstance(item.value, Record) else Record("bus", item.span, {}, {})
        buses[desk, name] = Bus(
            desk, name, "", bool(record.get("stereo")), (), "", processing(record), item.span, record
        )
    named = _of_desks(buses)
    out = []
    for desk, number, item in _by_desk(draft, "inputs", desks, sockets):
        if not isinstance(item.value, Record):
            continue
        record = item.value
        ref: SocketRef | None = record.get("from")
        plug: SocketRef | None = record.get("plugged")
        listens = tuple(sockets.ports(ref, "out", "mic")) if ref else ()
        plugged = tuple(sockets.ports(plug, "in", "mic")) if plug else listens
        # a DI and the instrument on it are both looked up; the signal begins at the first
        kinds = {key: _source(record, key, gear) for key in SOURCE_FAMILIES if record.get(key)}
        key = next(iter(kinds), "")
        kind = kinds.get(key)
        if record.get("stand"):
            gear.find(record.get("stand"), record.at("stand"), ("stand",), "stand")
        sends = _known_sends(record.get("to", ()), named.get(desk, {}), findings)
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
            )
        )
    return tuple(sorted(out, key=lambda c: (c.desk, c.number)))
