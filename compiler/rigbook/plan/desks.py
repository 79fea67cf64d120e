"""What belongs to a desk: its buses and outputs, and what is sent to them, every name looked up."""

from __future__ import annotations

from types import MappingProxyType
from typing import Any, Final

from rigbook.findings.finding import Finding, Label, Severity
from rigbook.findings.place import Span
from rigbook.findings.suggest import near
from rigbook.language.record import Record
from rigbook.language.values.sends import leg
from rigbook.plan.draft import Draft, Item
from rigbook.plan.insert import Insert
from rigbook.plan.model import Bus, Output
from rigbook.plan.processing import processing
from rigbook.plan.sockets import Sockets, listed
from rigbook.plan.words import write_one_of
from rigbook.records import replace
from rigbook.text.phrase import phrase

BUS: Final = phrase("bus")
DESK: Final = phrase("desk")
ROLE_BY_NAME = MappingProxyType({"main": "mains", "mains": "mains", "sub": "subs", "subs": "subs"})


def finding(
    check: str, span: Span, message: str, remedy: str, name: str = "", other: tuple[Label, ...] = ()
) -> Finding:
    """An error about a name."""
    objects = frozenset({name}) if name else frozenset()
    return Finding(check, Severity.ERROR, message, Label(span), other, remedy=remedy, objects=objects)


def by_desk(draft: Draft, section: str, desks: list[str], sockets: Sockets) -> list[tuple[str, str, Item]]:
    """(desk, name, item) of `section` and of each `section on DESK`."""
    out = []
    for key, items in draft.sections.items():
        base, on, desk = key.partition(" on ")
        if base != section or not items:
            continue
        first = next(iter(items.values()))
        if on:
            unit = sockets.unit(desk.strip(), first.span, DESK)
            name = unit.name if unit else desk.strip()
        elif len(desks) == 1:
            name = desks[0]
        else:
            name = next((u.name for u in sockets.units.values() if u.kind is None), "desk")
            if not desks and name not in sockets.units:
                fix = phrase("name a desk under `units:`, such as `desk: desk-16`")
                sockets.findings.append(
                    finding(
                        "unknown-name",
                        first.span,
                        phrase("there is no desk for these %(section)s", section=section),
                        fix,
                    )
                )
                sockets.unresolved.add("desk")
            elif desks:
                fix = phrase("write `%(line)s`", line=f"{section} on {desks[0]}:")
                message = phrase(
                    "these %(section)s do not say which of the %(count)s desks they belong to",
                    section=section,
                    count=len(desks),
                )
                sockets.findings.append(finding("desk-unsaid", first.span, message, fix))
                name = desks[0]
        out += [(name, n, i) for n, i in items.items()]
    return out


def buses_of(draft: Draft, desks: list[str], sockets: Sockets, findings: list[Finding]) -> dict[tuple[str, str], Bus]:
    """Every bus, by desk and name, with the sends whose bus exists."""
    out: dict[tuple[str, str], Bus] = {}
    for desk, name, item in by_desk(draft, "buses", desks, sockets):
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
            insert_of(record, sockets),
        )
    named = of_desks(out)
    for bus in list(out.values()):
        kept = known_sends(bus.sends, named.get(bus.desk, {}), findings)
        if kept != bus.sends:
            out[bus.desk, bus.name] = replace(bus, sends=kept)
    return out


def insert_of(record: Record, sockets: Sockets) -> Insert | None:
    """The insert of a channel or bus, its sockets resolved."""
    said = record.get("insert")
    ends = (said.get("send"), said.get("return")) if isinstance(said, Record) else (None, None)
    if ends[0] is None or ends[1] is None:
        return None  # what is lacking has been told
    return Insert(tuple(sockets.ports(ends[0], "out", "line")), tuple(sockets.ports(ends[1], "out", "mic")), said)


def of_desks(buses: dict[tuple[str, str], Bus]) -> dict[str, dict[str, Bus]]:
    """The buses of each desk, by name."""
    out: dict[str, dict[str, Bus]] = {}
    for (desk, name), bus in buses.items():
        out.setdefault(desk, {})[name] = bus
    return out


def known_sends(sends: tuple[Any, ...], buses: dict[str, Bus], findings: list[Finding]) -> Any:
    """The sends whose bus exists; a near name is read as the bus that was meant."""
    kept = []
    for send in sends:
        bus = buses.get(send.bus)
        if bus is not None:
            if send.leg and not bus.stereo:
                mono = phrase("write `%(bus)s`, or give the bus `stereo: yes`", bus=send.bus)
                findings.append(
                    finding(
                        "unknown-name",
                        send.span,
                        _no_side(send.bus, send.leg),
                        mono,
                        send.bus,
                    )
                )
            kept.append(send)
            continue
        close = near(send.bus, buses)
        fix = write_one_of(close) if close else _name_it(list(buses))
        place = send.span.within(0, len(send.bus)) if send.span.line == send.span.end_line else send.span
        findings.append(
            finding(
                "unknown-name", place, phrase("there is no %(what)s `%(name)s`", what=BUS, name=send.bus), fix, send.bus
            )
        )
        if close:
            kept.append(replace(send, bus=close[0]))
    return tuple(kept)


def _no_side(bus: str, leg: str) -> str:
    return (
        phrase("`%(bus)s` has no left side", bus=bus)
        if leg == "left"
        else phrase("`%(bus)s` has no right side", bus=bus)
    )


def _name_it(buses: list[str]) -> str:
    return (
        phrase("name it under `buses:` (there are %(names)s)", names=listed(buses))
        if buses
        else phrase("name it under `buses:`")
    )


def outputs_of(
    draft: Draft,
    desks: list[str],
    sockets: Sockets,
    buses: dict[tuple[str, str], Bus],
    findings: list[Finding],
) -> tuple[Output, ...]:
    """Every output of a bus, with its sockets."""
    out = []
    for desk, name, item in by_desk(draft, "outputs", desks, sockets):
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
    fix = write_one_of(close) if close else _name_it(names)
    findings.append(
        finding(
            "unknown-name",
            item.span.within(0, len(name)),
            phrase("there is no %(what)s `%(name)s`", what=BUS, name=name),
            fix,
            name,
        )
    )
    return buses[desk, close[0]] if close else None


def _side(typed: Any, bus: Bus, item: Item, findings: list[Finding]) -> str:
    if bus.stereo and not typed.leg:
        fix = phrase("write `%(bus)s left` and `%(bus)s right`, or `%(bus)s mono` for the sum", bus=bus.name)
        findings.append(
            finding(
                "leg-unsaid",
                item.span,
                phrase("`%(bus)s` is stereo, this output does not say which side", bus=bus.name),
                fix,
                bus.name,
            )
        )
        return "mono"
    if not bus.stereo and typed.leg in ("left", "right"):
        if "stereo" in bus.record.broken:
            # what stands at `stereo` has been told
            return ""
        fix = phrase("write `%(bus)s`, or give the bus `stereo: yes`", bus=bus.name)
        findings.append(
            finding(
                "unknown-name",
                item.span,
                _no_side(bus.name, typed.leg),
                fix,
                bus.name,
            )
        )
        return ""
    return str(typed.leg)
