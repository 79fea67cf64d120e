"""What the plan takes of each kind: units, cables by length, microphones, DIs, stands, adaptors.

It is what has to be pulled from the store; `Shortage` sets it against what the plan says is owned.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

from rigbook.findings.place import Span
from rigbook.language.grammar import Entry, Record
from rigbook.language.values.sizes import Counted
from rigbook.plan.model import Channel, Plan
from rigbook.units.quantity import Quantity

OWN = "house"
"""`owner:` of what belongs to the stock, besides units without an owner."""
MIC_CABLE = "xlr"
"""Kind of the cable from a microphone or DI to its socket."""


@dataclass(frozen=True)
class Need:
    """One piece that the plan takes."""

    kind: str
    what: str
    """What it is for: a unit, a channel, a cable by its ends."""
    span: Span
    length_m: float | None = None
    """Of a cable, where the plan says it."""


@dataclass
class Owned:
    """What is owned of a kind: pieces without a length, and pieces by length in metres."""

    kind: str
    span: Span
    count: int = 0
    lengths: list[float] = field(default_factory=list)

    @property
    def total(self) -> int:
        """Pieces in all; a count that is said counts those with lengths in."""
        return max(self.count, len(self.lengths))


@dataclass(frozen=True)
class Shortage:
    """A kind of which the plan takes more than is owned."""

    owned: Owned
    needs: tuple[Need, ...]
    lacking: tuple[Need, ...]
    """Those for which nothing is left, the longest cables first."""


def needs(plan: Plan) -> Iterator[Need]:
    """Every piece that comes out of the store, in plan order. Spares count; what belongs to others does not."""
    for unit in plan.units.values():
        owner = str(unit.record.get("owner") or OWN)
        if unit.kind is not None and owner == OWN:
            yield Need(unit.kind.name, unit.name, unit.span)
        if unit.record.get("stand"):
            yield Need(str(unit.record.get("stand")), unit.name, unit.record.at("stand"))
    for rack in plan.racks.values():
        if rack.kind is not None:
            yield Need(rack.kind.name, rack.name, rack.span)
    for channel in plan.channels:
        yield from _channel(channel)
    yield from _cables(plan)


def _channel(channel: Channel) -> Iterator[Need]:
    """Microphone, DI and stand, one for each socket; not the source itself, which its player brings."""
    record = channel.record
    pieces = max(len(channel.plugged), 1)
    for key, count in (("mic", pieces), ("di", pieces), ("stand", 1)):
        if record.get(key):
            yield from (Need(str(record.get(key)), channel.name, record.at(key)) for _ in range(count))
    length = record.get("cable")
    plug = str(channel.source_kind.get("connector", "xlr-male")) if channel.source_kind else ""
    if channel.source_key in ("mic", "di") and plug == "xlr-male":
        metres = length.value if isinstance(length, Quantity) else None
        yield from (Need(MIC_CABLE, channel.name, channel.span, metres) for _ in range(pieces))


def _cables(plan: Plan) -> Iterator[Need]:
    """Each physical cable once, and the adaptors on it."""
    seen: set[tuple[str, Span]] = set()
    for cable in plan.cables:
        if (cable.sheath, cable.span) in seen:
            continue
        seen.add((cable.sheath, cable.span))
        metres = cable.length.value if cable.length else None
        yield Need(cable.kind.name if cable.kind else cable.kind_name, cable.sheath, cable.span, metres)
        if cable.adaptor:
            yield Need(cable.adaptor, cable.sheath, cable.span)


def owned(plan: Plan) -> dict[str, Owned]:
    """What the plan says is owned, by kind."""
    out = {}
    for entry in plan.sections.get("stock", ()):
        if isinstance(entry, Entry) and isinstance(entry.value, Record):
            record = entry.value
            pieces = (c for c in record.get("lengths", ()) if isinstance(c, Counted))
            lengths = [c.length.value for c in pieces for _ in range(c.count)]
            out[entry.name] = Owned(entry.name, entry.span, int(record.get("count", 0)), sorted(lengths))
    return out


def shortages(plan: Plan) -> tuple[Shortage, ...]:
    """Kinds that the stock names and of which it has too few. Kinds that it does not name are not judged."""
    have = owned(plan)
    taken: dict[str, list[Need]] = {}
    for need in needs(plan) if have else ():
        if need.kind in have:
            taken.setdefault(need.kind, []).append(need)
    found = []
    for kind, wanted in taken.items():
        lacking = _lacking(have[kind], wanted)
        if lacking:
            found.append(Shortage(have[kind], tuple(wanted), lacking))
    return tuple(found)


def _lacking(stock: Owned, wanted: list[Need]) -> tuple[Need, ...]:
    """The longest cable first, each takes the shortest piece that is long enough: no other order serves more of them.
    What has no length takes what remains.
    """
    free = list(stock.lengths)
    loose = stock.total - len(free)
    lacking = []
    for need in sorted((n for n in wanted if n.length_m is not None), key=lambda n: -(n.length_m or 0.0)):
        at = next((i for i, metres in enumerate(free) if metres >= (need.length_m or 0.0) - 0.001), None)
        if at is not None:
            del free[at]
        elif loose:
            loose -= 1
        else:
            lacking.append(need)
    left = loose + len(free)
    rest = [n for n in wanted if n.length_m is None]
    return (*lacking, *rest[left:])
