"""Lines of wiring to cables between sockets: chains cut into hops, runs unfolded, removed cables taken out."""

from __future__ import annotations

from itertools import pairwise
from typing import Final

from rigbook.findings.finding import Finding, Label, Severity
from rigbook.findings.place import Span
from rigbook.findings.suggest import near
from rigbook.language.values.names import SocketRef, unfold
from rigbook.plan.draft import ADDED, IN_HOUSE, TAKEN_OUT, Draft, WireItem
from rigbook.plan.gear import Gear
from rigbook.plan.model import Cable, Change, Kind, Socket
from rigbook.plan.runs import unequal
from rigbook.plan.sockets import Sockets
from rigbook.records import replace
from rigbook.text.phrase import phrase

Laid = list[tuple[int, Cable]]
"""Cables, each with the place of its line among the lines of wiring."""
CABLE_KIND: Final = phrase("cable kind")
ADAPTOR: Final = phrase("adaptor")


def cables(draft: Draft, sockets: Sockets, gear: Gear) -> tuple[tuple[Cable, ...], list[Change]]:
    """Every cable of the draft, without those that a change takes out or replaces; and the changes that did."""
    kinds: dict[str, Kind | None] = {}
    # sockets that lines name in full are not free to be picked for lines that name a unit only
    for item in draft.wires:
        for ref in item.wire.ends:
            for port in unfold(ref.port) or () if ref.port else ():
                sockets.taken.add(Socket(ref.unit, port))
    out: Laid = []
    changes: list[Change] = []
    removals = sorted(draft.removals, key=lambda r: r[0])
    for number, item in enumerate(draft.wires):
        while removals and removals[0][0] <= number:
            out = _removed(out, removals.pop(0), draft.removed_units, sockets, changes)
        if item.kind not in kinds:
            kinds[item.kind] = gear.find(item.kind, item.kind_span, ("cable",), CABLE_KIND)
        if item.wire.adaptor:
            item = _with_adaptor(item, gear)
        if not any(number < draft.removed_units.get(ref.unit, 0) for ref in item.wire.ends):
            house = _repeated(out, item)
            sockets.taken.difference_update(s for c in house for s in (c.start, c.end))
            out = _laid(out, number, _hops(item, kinds[item.kind], sockets), house, item, sockets, changes)
    for removal in removals:
        out = _removed(out, removal, draft.removed_units, sockets, changes)
    return tuple(c for _, c in out), changes


def _removed(
    out: Laid, removal: tuple[int, str, Span, str], went: dict[str, int], sockets: Sockets, changes: list[Change]
) -> Laid:
    """Without the cables that a change takes out; their sockets are free again. Cables of units that went are gone."""
    _, text, span, reason = removal
    gone = [c for _, c in out if _matches(text, c)]
    ends = {end.partition("/")[0].strip() for end in text.split("->")}
    if not gone and not ends & went.keys():
        close = near(text, [c.name for _, c in out])
        fix = (
            phrase("write `%(line)s`", line=close[0])
            if close
            else phrase("write its two ends as the house plan does: `box/out 6 -> amp/in B`")
        )
        message = phrase("there is no cable `%(value)s` to take out", value=text)
        sockets.findings.append(Finding("unknown-name", Severity.ERROR, message, Label(span), remedy=fix))
    changes += [Change(reason, _words(c), IN_HOUSE, TAKEN_OUT, span) for c in gone]
    sockets.taken.difference_update(s for c in gone for s in (c.start, c.end))
    return [(n, c) for n, c in out if c not in gone]


def _repeated(out: Laid, item: WireItem) -> list[Cable]:
    """Cables of the house between the ends that a line of the show names."""
    if not item.house:
        return []
    pairs = list(pairwise(item.wire.ends))
    there = (c for n, c in out if n < item.house)
    return [c for c in there if any(_at(a, c.start, n > 0) and _at(b, c.end) for n, (a, b) in enumerate(pairs))]


def _at(ref: SocketRef, socket: Socket, through: bool = False) -> bool:
    """`through`: a chain goes on there, from the link-through of the socket that is named."""
    if ref.unit != socket.unit:
        return False
    linked = through and socket.port.startswith("link")
    return linked or not ref.port or socket.port in (ref.port, *(unfold(ref.port) or ()))


def _laid(
    out: Laid,
    number: int,
    new: list[Cable],
    house: list[Cable],
    item: WireItem,
    sockets: Sockets,
    changes: list[Change],
) -> Laid:
    """The cables of a line among those laid before, in the place of house cables between the same sockets."""
    old = {(c.start, c.end): c for c in house}
    sockets.taken.update(s for c in house for s in (c.start, c.end))
    gone = []
    for cable in new:
        before = old.get((cable.start, cable.end))
        if before is not None:
            gone.append(before)
            cable = _over(before, cable)
        if item.reason:
            said = ("", ADDED) if before is None else (_typed(before), _typed(cable))
            changes.append(Change(item.reason, _words(cable), *said, item.wire.span))
        out.append((number, cable))
    if gone and not item.reason:
        sockets.findings.append(_unsaid(item, gone[0]))
    return [(n, c) for n, c in out if c not in gone] if gone else out


def _over(before: Cable, cable: Cable) -> Cable:
    """What is typed of a house cable changes; the rest stays, what is said of its plugs while the kind does."""
    same = before.kind_name == cable.kind_name
    return replace(
        cable,
        length=cable.length or before.length,
        label=cable.label or before.label,
        adaptor=cable.adaptor or (before.adaptor if same else ""),
        split=cable.split or before.split,
    )


def _typed(cable: Cable) -> str:
    said = (
        cable.kind_name,
        cable.length.page() if cable.length else "",
        f"label {cable.label}" if cable.label else "",
    )
    return ", ".join(word for word in said if word)


def _words(cable: Cable) -> str:
    return phrase("cable %(name)s", name=cable.name)


def _unsaid(item: WireItem, before: Cable) -> Finding:
    wire = item.wire
    extras = (wire.length.text if wire.length else "", f"label {wire.label}" if wire.label else "",
              f"adaptor {wire.adaptor}" if wire.adaptor else "", "split" if wire.split else "")  # fmt: skip
    line = ", ".join((wire.text, *(word for word in extras if word)))
    return Finding(
        "change-unsaid",
        Severity.ERROR,
        phrase(
            "cable `%(before)s` of `%(origin)s` is laid anew without saying so",
            before=before.name,
            origin=before.origin,
        ),
        Label(wire.span, phrase("laid anew here")),
        (Label(before.span, phrase("the house says this")),),
        effect=phrase("the next person cannot see what to put back after the show"),
        remedy=phrase(
            "move the line under `changes:` with the reason as heading: `%(line)s`",
            line=f'changes: {{WHY: {{wiring: {{{item.kind}: ["{line}"]}}}}}}',
        ),
    )


def _with_adaptor(item: WireItem, gear: Gear) -> WireItem:
    """A mistyped adaptor is read as the one that was meant."""
    wire = item.wire
    found = gear.find(wire.adaptor, wire.adaptor_span or wire.span, ("adaptor",), ADAPTOR)
    return item if found is None else replace(item, wire=replace(wire, adaptor=found.name))


def _matches(text: str, cable: Cable) -> bool:
    ends = [t.strip() for t in text.split("->")]
    hops = enumerate(pairwise(ends))
    return any(_is(a, cable.start, n > 0) and _is(b, cable.end) for n, (a, b) in hops)


def _is(text: str, socket: Socket, through: bool = False) -> bool:
    """True of a socket, its unit, or a run that it is in; a chain goes on from a link-through."""
    unit, _, port = text.partition("/")
    return _at(SocketRef(unit.strip(), port.strip(), Span("", 0, 0, 0, 0)), socket, through)


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
                phrase("`%(socket)s` has no link-through for a chain to go on from", socket=socket.id),
                Label(ref.span),
                remedy=phrase(
                    "write the next cable on a line of its own, from an output of `%(unit)s`", unit=socket.unit
                ),
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
    # of a unit whose kind is not known, a run is one socket: its kind has been told
    known = all(s.unit in sockets.units and sockets.units[s.unit].kind for s in (*start[:1], *end[:1]))
    if len(start) != len(end) and start and end and known:
        start, end = unequal(wire.span, (a, b), start, end, sockets)
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
