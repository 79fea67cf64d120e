"""Lines of wiring to cables between sockets: chains cut into hops, runs unfolded, removed cables taken out."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

from rigbook.findings.finding import Finding, Label, Severity
from rigbook.findings.suggest import near
from rigbook.language.values.names import SocketRef, unfold
from rigbook.plan.compose import IN_HOUSE, TAKEN_OUT, Draft, WireItem
from rigbook.plan.gear import Gear
from rigbook.plan.model import Cable, Change, Kind, Socket
from rigbook.plan.sockets import Sockets
from rigbook.text.phrase import phrase


def cables(draft: Draft, sockets: Sockets, gear: Gear) -> tuple[tuple[Cable, ...], list[Change]]:
    """Every cable of the draft, without those that a change takes out; and the changes that did."""
    kinds: dict[str, Kind | None] = {}
    # sockets that lines name in full are not free to be picked for lines that name a unit only
    for item in draft.wires:
        for ref in item.wire.ends:
            for port in unfold(ref.port) or () if ref.port else ():
                sockets.taken.add(Socket(ref.unit, port))
    out: list[Cable] = []
    for item in draft.wires:
        if item.kind not in kinds:
            kinds[item.kind] = gear.find(item.kind, item.kind_span, ("cable",), "cable kind")
        if item.wire.adaptor:
            item = _with_adaptor(item, gear)
        if not any(ref.unit in draft.removed_units for ref in item.wire.ends):
            out += _hops(item, kinds[item.kind], sockets)
    changes = []
    for text, span, reason in draft.removals:
        kept = [c for c in out if not _matches(text, c)]
        if len(kept) == len(out):
            close = near(text, [c.name for c in out])
            fix = (
                f"write `{close[0]}`" if close else "write its two ends as the house plan does: `box/out 6 -> amp/in B`"
            )
            sockets.findings.append(
                Finding(
                    "unknown-name", Severity.ERROR, f"there is no cable `{text}` to take out", Label(span), remedy=fix
                )
            )
        changes += [
            Change(reason, phrase("cable %(name)s", name=c.name), IN_HOUSE, TAKEN_OUT, span)
            for c in out
            if c not in kept
        ]
        out = kept
    return tuple(out), changes


def _with_adaptor(item: WireItem, gear: Gear) -> WireItem:
    """A mistyped adaptor is read as the one that was meant."""
    wire = item.wire
    found = gear.find(wire.adaptor, wire.adaptor_span or wire.span, ("adaptor",), "adaptor")
    return item if found is None else replace(item, wire=replace(wire, adaptor=found.name))


def _matches(text: str, cable: Cable) -> bool:
    a, _, b = (t.strip() for t in text.partition("->"))
    return a in (cable.start.id, cable.start.unit) and b in (cable.end.id, cable.end.unit)


def _hops(item: WireItem, kind: Kind | None, sockets: Sockets) -> list[Cable]:
    carries = str(kind.get("carries", "line")) if kind else "line"
    out: list[Cable] = []
    through: list[Socket] = []
    ends = item.wire.ends
    for hop, (a, b) in enumerate(pairwise(ends)):
        start = through or sockets.ports(a, "out", carries)
        sockets.taken.update(start)
        end = sockets.ports(b, "in", carries)
        sockets.taken.update(end)
        out += _lines(item, kind, a, b, start, end, sockets)
        through = [_link(s, b, sockets) for s in end] if hop + 2 < len(ends) else []
    return out


def _link(socket: Socket, ref: SocketRef, sockets: Sockets) -> Socket:
    """The socket that passes on what comes into `socket`: where a chain goes on."""
    unit = sockets.units.get(socket.unit)
    ports = unit.kind.ports if unit and unit.kind else {}
    _, _, suffix = socket.port.partition(" ")
    for name in (f"link {suffix}".strip(), "link"):
        if name in ports:
            return Socket(socket.unit, name)
    if unit is not None and unit.kind is not None:
        sockets.findings.append(
            Finding(
                "unknown-port",
                Severity.ERROR,
                f"`{socket.id}` has no link-through for a chain to go on from",
                Label(ref.span),
                remedy=f"write the next cable on a line of its own, from an output of `{socket.unit}`",
            )
        )
    sockets.unresolved.add(f"{socket.unit}/?")
    return Socket(socket.unit, "?")


def _lines(
    item: WireItem,
    kind: Kind | None,
    a: SocketRef,
    b: SocketRef,
    start: list[Socket],
    end: list[Socket],
    sockets: Sockets,
) -> list[Cable]:
    wire = item.wire
    if len(start) != len(end) and start and end:
        message = f"`{a.text}` is {_count(start)}, `{b.text}` is {_count(end)}"
        fix = "write runs of the same length on both sides"
        sockets.findings.append(Finding("wrong-value", Severity.ERROR, message, Label(wire.span), remedy=fix))
    per_sheath = int(kind.get("lines", 1)) if kind else 1
    out = []
    for i, (s, e) in enumerate(zip(start, end, strict=False)):
        first = (i // per_sheath) * per_sheath
        sheath = f"{start[first].id} -> {end[first].id}"
        out.append(
            Cable(
                item.kind,
                kind,
                s,
                e,
                wire.length,
                wire.label,
                wire.adaptor,
                wire.split,
                sheath,
                wire.span,
                a.span,
                b.span,
                item.origin,
            )
        )
    return out


def _count(sockets: list[Socket]) -> str:
    return "1 socket" if len(sockets) == 1 else f"{len(sockets)} sockets"
