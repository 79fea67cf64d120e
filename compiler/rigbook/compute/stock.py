"""What the plan takes of each kind, set against what is owned: units, cables by length, microphones, stands, adaptors.

The length of a run is what the plan says. Where it says none, and both ends have a place, it is reckoned from the
places: along the floor or the boards at right angles, up and down at both ends, and `SLACK_M` to spare (common
practice).
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from typing import Final

from rigbook.compute.assignment import assign
from rigbook.compute.places import Places, Spot
from rigbook.findings.place import Span
from rigbook.language.record import Entry, Record
from rigbook.language.values.sizes import Counted, Size
from rigbook.plan.model import Cable, Channel, Plan
from rigbook.records import changing, field, frozen
from rigbook.text.phrase import phrase
from rigbook.units.quantity import Quantity

OWN: Final = "house"
"""`owner:` of what belongs to the stock, besides units without an owner."""
HIRED: Final = phrase("hired")
"""Whose a unit is that goes back on a day and says no owner."""
MIC_CABLE: Final = "xlr"
"""Kind of the cable from a microphone or DI to its socket."""
SLACK_M: Final = 2.0
"""Cable for both ends of a run that is reckoned from places: a loop at the stand, a tail at the socket."""


@frozen
class Need:
    """One piece that the plan takes."""

    kind: str
    what: str
    """What it is for: a unit, a channel, a cable by its ends."""
    span: Span
    length_m: float | None = None
    """Of a cable, where the plan says it or the places give it."""
    reckoned: bool = False
    """True where the length is reckoned from places."""


@changing
class Owned:
    """What is owned of a kind: pieces without a length, and pieces by length in metres."""

    kind: str
    span: Span
    count: int = 0
    lengths: list[float] = field(default_factory=list)
    join: int = 1
    """Pieces that may be plugged together for one run."""
    joiner: str = ""
    """Kind of coupler that each joint takes; empty where the ends fit into each other."""

    @property
    def total(self) -> int:
        """Pieces in all; a count that is said counts those with lengths in."""
        return max(self.count, len(self.lengths))


@frozen
class Given:
    """What a need is served by."""

    need: Need
    pieces: tuple[float, ...] = ()
    """Lengths in metres; empty for a piece whose length, or the run's, is not said."""


@frozen
class Use:
    """A kind of which the plan takes some."""

    kind: str
    needs: tuple[Need, ...]
    owned: Owned | None = None
    """None where the stock does not name the kind: then nothing is given and nothing lacks."""
    given: tuple[Given, ...] = ()
    lacking: tuple[Need, ...] = ()
    """Those for which nothing is left, the longest cables first."""
    left: tuple[float, ...] = ()
    """Lengths in metres that stay in the store."""
    left_loose: int = 0
    """Pieces without a length that stay in the store."""
    proven: bool = True
    """False where joins made the search too large: the answer may not be the best."""


@frozen
class Shortage:
    """A kind of which the plan takes more than is owned."""

    owned: Owned
    needs: tuple[Need, ...]
    lacking: tuple[Need, ...]
    """Those for which nothing is left, the longest cables first."""


def owner_of(record: Record) -> str:
    """Whose a unit is: as typed; hired where only the day is said on which it goes back; else the house's."""
    return str(record.get("owner") or (HIRED if record.get("returns") is not None else OWN))


def needs(plan: Plan) -> Iterator[Need]:
    """Every piece that comes out of the store, in plan order. Spares count; what belongs to others does not."""
    for unit in plan.units.values():
        if unit.kind is not None and owner_of(unit.record) == OWN:
            yield Need(unit.kind.name, unit.name, unit.span)
        if unit.record.get("stand"):
            yield Need(str(unit.record.get("stand")), unit.name, unit.record.at("stand"))
    for rack in plan.racks.values():
        if rack.kind is not None:
            yield Need(rack.kind.name, rack.name, rack.span)
    for entry in _radio(plan):
        receiver = plan.units.get(entry.name)
        if receiver is None or owner_of(receiver.record) == OWN:
            kind = str(entry.value.get("transmitter"))
            # an in-ear transmitter is the unit itself
            if receiver is None or receiver.kind is None or receiver.kind.name != kind:
                yield Need(kind, entry.name, entry.value.at("transmitter"))
    places = Places(plan)
    for channel in plan.channels:
        yield from _channel(plan, channel, places)
    yield from _cables(plan, places)


def _radio(plan: Plan) -> Iterator[Entry]:
    """Radio channels whose transmitter the plan names."""
    radio = plan.sections.get("radio")
    for entry in radio.get("channels", ()) if isinstance(radio, Record) else ():
        if isinstance(entry.value, Record) and entry.value.get("transmitter"):
            yield entry


def _channel(plan: Plan, channel: Channel, places: Places) -> Iterator[Need]:
    """Microphone and DI for each socket (a DI of two channels serves a pair), and a stand; not the source itself, which
    its player brings.
    """
    record = channel.record
    pieces = max(len(channel.plugged), 1)
    for key, count in (("mic", pieces), ("di", math.ceil(pieces / _ways(plan, channel))), ("stand", 1)):
        if record.get(key):
            yield from (Need(str(record.get(key)), channel.name, record.at(key)) for _ in range(count))
    plug = str(channel.source_kind.get("connector", "xlr-male")) if channel.source_kind else ""
    if channel.source_key in ("mic", "di") and plug == "xlr-male":
        said = record.get("cable")
        source = places.channel(channel)
        for at in range(pieces):
            socket = channel.plugged[at].unit if channel.plugged else ""
            reckoned = None if said else _reckoned(places, source, _stands(plan, places, socket))
            metres = said.value if isinstance(said, Quantity) else reckoned
            yield Need(MIC_CABLE, channel.name, channel.span, metres, reckoned is not None)


def _ways(plan: Plan, channel: Channel) -> int:
    """Channels of its DI: the outputs at microphone level; one where the kind says none."""
    kind = plan.kinds.get(str(channel.record.get("di")))
    ports = kind.ports.values() if kind else ()
    return max(sum(p.direction == "out" and p.level == "mic" for p in ports), 1)


def _stands(plan: Plan, places: Places, unit: str) -> Spot | None:
    """Where a unit stands, else the rack that it sits in."""
    here = places.unit(unit)
    if here is not None:
        return here
    racks = (r for r in plan.racks.values() if any(item.unit == unit for _, item in (*r.front, *r.rear)))
    return next((spot for r in racks if (spot := places.spot(r.record.get("at")))), None)


def _reckoned(places: Places, start: Spot | None, end: Spot | None) -> float | None:
    """Length in whole metres of a run between two places: at right angles along the floor, down one end and up the
    other; None where a place is not known.
    """
    if start is None or end is None:
        return None
    below = (_floor(places, start), _floor(places, end))
    way = abs(start.x - end.x) + abs(start.y - end.y) + abs(below[0] - below[1])
    return float(math.ceil(way + start.z - below[0] + end.z - below[1] + SLACK_M - 1e-9))


def _floor(places: Places, spot: Spot) -> float:
    """Height of what a thing stands on or above: the boards of the stage, or the floor (nothing lies below it)."""
    stage = places.room.get("stage") if places.room else None
    high = stage.height if isinstance(stage, Size) else 0.0
    return high if spot.y <= 0 and spot.z >= high else min(spot.z, 0.0)


def _cables(plan: Plan, places: Places) -> Iterator[Need]:
    """Each physical cable once, and the adaptors on it."""
    seen: set[tuple[str, Span]] = set()
    for cable in plan.cables:
        if (cable.sheath, cable.span) in seen:
            continue
        seen.add((cable.sheath, cable.span))
        metres = cable.length.value if cable.length else None
        reckoned = None
        if metres is None:
            ends = (_stands(plan, places, s.unit) for s in (cable.start, cable.end))
            reckoned = _reckoned(places, next(ends), next(ends))
        kind = cable.kind.name if cable.kind else cable.kind_name
        yield Need(kind, cable.sheath, cable.span, reckoned if metres is None else metres, reckoned is not None)
        if cable.adaptor:
            yield Need(cable.adaptor, cable.sheath, cable.span)


def spans(plan: Plan, places: Places) -> Iterator[tuple[Cable, float, float]]:
    """Every cable both of whose ends have a place, with the straight way between them and the one that it is laid, in
    metres. What sits in a rack is where the rack is.
    """
    for cable in plan.cables:
        start, end = (_stands(plan, places, s.unit) for s in (cable.start, cable.end))
        way = _reckoned(places, start, end)
        if start is not None and end is not None and way is not None:
            yield cable, math.dist(start, end), way


def owned(plan: Plan) -> dict[str, Owned]:
    """What the plan says is owned, by kind."""
    out = {}
    for entry in plan.sections.get("stock", ()):
        if isinstance(entry, Entry) and isinstance(entry.value, Record):
            record = entry.value
            pieces = (c for c in record.get("lengths", ()) if isinstance(c, Counted))
            lengths = sorted(c.length.value for c in pieces for _ in range(c.count))
            count, join = int(record.get("count", 0)), max(int(record.get("join", 1)), 1)
            out[entry.name] = Owned(entry.name, entry.span, count, lengths, join, str(record.get("joiner") or ""))
    return out


def uses(plan: Plan) -> tuple[Use, ...]:
    """Every kind that the plan takes, in plan order, with what it is served by. Couplers for joints come last."""
    have = owned(plan)
    taken: dict[str, list[Need]] = {}
    for need in needs(plan):
        taken.setdefault(need.kind, []).append(need)
    couplers = {o.joiner for o in have.values() if o.joiner}
    found = {kind: use(have.get(kind), kind, wanted) for kind, wanted in taken.items() if kind not in couplers}
    for each in tuple(found.values()):
        joiner = each.owned.joiner if each.owned else ""
        joints = [g.need for g in each.given for _ in g.pieces[1:]] if joiner else []
        taken.setdefault(joiner, []).extend(Need(joiner, n.what, n.span) for n in joints)
    for kind in (k for k in taken if k in couplers and taken[k]):
        found[kind] = use(have.get(kind), kind, taken[kind])
    return tuple(found.values())


def shortages(plan: Plan) -> tuple[Shortage, ...]:
    """Kinds that the stock names and of which it has too few. Kinds that it does not name are not
    judged, nor those of which a line of the stock could not be read.
    """
    if not plan.sections.get("stock"):
        return ()
    unread = {e.name for e in plan.sections["stock"] if isinstance(e.value, Record) and e.value.broken}
    short = (u for u in uses(plan) if u.lacking and u.kind not in unread)
    return tuple(Shortage(u.owned, u.needs, u.lacking) for u in short if u.owned)


def use(stock: Owned | None, kind: str, wanted: Iterable[Need]) -> Use:
    """What serves the needs of one kind: cables as `assign` finds best; then, for the longest runs that found none, the
    pieces whose length is not said; last, for what has no length, whatever remains, loose pieces first.
    """
    all_needs = tuple(wanted)
    if stock is None:
        return Use(kind, all_needs)
    runs = [n for n in all_needs if n.length_m is not None]
    rest = [n for n in all_needs if n.length_m is None]
    got = assign([_mm(n.length_m or 0.0) for n in runs], [_mm(p) for p in stock.lengths], stock.join)
    given = [Given(n, tuple(p / 1000 for p in pieces)) for n, pieces in zip(runs, got.pieces, strict=True) if pieces]
    unmet = sorted((n for n, p in zip(runs, got.pieces, strict=True) if not p), key=lambda n: -(n.length_m or 0.0))
    loose = stock.total - len(stock.lengths)
    given += [Given(n) for n in unmet[:loose]]
    lacking, loose = unmet[loose:], max(loose - len(unmet), 0)
    given += [Given(n) for n in rest[:loose]]
    rest, loose = rest[loose:], max(loose - len(rest), 0)
    left = [p / 1000 for p in got.left]
    # of a run without a length nothing is known: it gets the longest that is left
    given += [Given(n, (left.pop(),)) for n in rest[: len(left)]]
    lacking += rest[len(got.left) :]
    return Use(kind, all_needs, stock, tuple(given), tuple(lacking), tuple(left), loose, got.proven)


def _mm(metres: float) -> int:
    return round(metres * 1000)
