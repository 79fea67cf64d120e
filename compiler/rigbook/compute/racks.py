"""Racks, weights and stands: what each holds and weighs, and what stands on what."""

from __future__ import annotations

from math import ceil
from types import MappingProxyType

from rigbook.compute.figure import Figure, Missing, Result
from rigbook.compute.mains import Mains
from rigbook.findings.place import Span
from rigbook.physics.rack import rack_height
from rigbook.plan.model import Plan, Rack, Unit
from rigbook.records import frozen
from rigbook.text.phrase import joined, phrase
from rigbook.units.quantity import Quantity

SIDES = ("front", "rear")


@frozen
class Item:
    """Something in a rack, from its lowest to its highest rack unit."""

    name: str
    """Unit, or the word of a panel."""
    side: str
    low: int
    high: int
    depth_m: float | None
    weight_kg: float | None
    heat_w: float
    panel: bool
    span: Span


@frozen
class RackFigures:
    """A rack worked out."""

    rack: Rack
    items: tuple[Item, ...]
    units: int | None
    """Rack units that its kind has."""
    used: Figure
    height: Result
    weight: Figure
    unknown_weight: tuple[str, ...]
    per_lifter: Figure
    heat: Figure
    depth: Result
    """Deepest pair of front and rear at one height, mm."""
    current: Figure
    air: Figure
    """Rack units that let air through: vents, and places in front where nothing is mounted."""


@frozen
class Stood:
    """A box on a stand."""

    unit: Unit
    stand: str
    weight: Result
    load: Result


def rack_figures(plan: Plan, mains: Mains) -> tuple[RackFigures, ...]:
    """Every rack, in plan order."""
    heat = {d.unit: d.heat.value for d in mains.draws if isinstance(d.heat, Figure)}
    amps = {d.unit: d.current.value for d in mains.draws if isinstance(d.current, Figure)}
    return tuple(_rack(plan, rack, heat, amps) for rack in plan.racks.values())


def _rack(plan: Plan, rack: Rack, heat: dict[str, float], amps: dict[str, float]) -> RackFigures:
    items = tuple(_item(plan, side, low, row, heat) for side in SIDES for low, row in getattr(rack, side))
    height = rack.kind.get("height") if rack.kind else None
    units = round(height.value) if height is not None else None
    own = rack.kind.get("weight") if rack.kind else None
    held = [(i.name, i.weight_kg, "kg") for i in items if i.weight_kg is not None]
    empty = [(phrase("rack"), own.value, "kg")] if own is not None else []
    parts = tuple((n, float(w), u) for n, w, u in (*empty, *held))
    whole = sum(w for _, w, _ in parts)
    lifts = int(rack.record.get("lifts") or 1)
    unknown = tuple(i.name for i in items if not i.panel and i.weight_kg is None)
    hot = tuple((i.name, i.heat_w, "W") for i in items if i.heat_w)
    drawn = tuple((i.name, amps[i.name], "A") for i in items if i.name in amps)
    left_out = (phrase("without %(units)s", units=joined(unknown)),) if unknown else ()
    each = ((phrase("weight"), whole, "kg"), (phrase("people"), lifts, ""))
    used = sum(i.high - i.low + 1 for i in items if i.side == "front")
    return RackFigures(
        rack, items, units,
        Figure(used, "U", phrase("sum of the heights in front"), (), (), 0),
        _height(units),
        Figure(
            whole, "kg", phrase("rack and what is in it"), parts,
            (*left_out, phrase("panels, drawers and cables left out")),
        ),
        unknown, Figure(whole / max(lifts, 1), "kg", phrase("weight by the people who carry it"), each),
        Figure(sum(h for _, h, _ in hot), "W", phrase("heat of its units with loud music"), hot, (), 0),
        _depth(items), Figure(sum(a for _, a, _ in drawn), "A", phrase("currents of its units with loud music"), drawn),
        _air(items, units),
    )  # fmt: skip


def _air(items: tuple[Item, ...], units: int | None) -> Figure:
    shut = {u for i in items if i.side == "front" and i.name != "vent" for u in range(i.low, i.high + 1)}
    vents = {side: sum(i.high - i.low + 1 for i in items if i.side == side and i.name == "vent") for side in SIDES}
    clear = len(set(range(1, units + 1)) - shut) if units else vents["front"]
    return Figure(clear + vents["rear"], "U", phrase("vents, and places in front where nothing is mounted"), (), (), 0)


def _height(units: int | None) -> Result:
    if not units:
        return Missing(phrase("the kind of the rack states no height"))
    return Figure(rack_height(units), "m", phrase("44.45 mm each"), ((phrase("units"), units, "U"),), (), 2)


def _item(plan: Plan, side: str, low: int, row: object, heat: dict[str, float]) -> Item:
    from rigbook.language.values.racks import RackItem

    assert isinstance(row, RackItem)
    if row.filler:
        return Item(row.filler, side, low, low + row.height - 1, None, None, 0.0, True, row.span)
    unit = plan.units.get(row.unit)
    kind = unit.kind if unit else None
    tall, deep, heavy = (kind.get(k) if kind else None for k in ("height", "depth", "weight"))
    high = low + (ceil(tall.value) if tall is not None else 1) - 1  # half a unit takes the whole of it
    return Item(
        row.unit, side, low, high, deep.value if deep is not None else None,
        heavy.value if heavy is not None else None, heat.get(row.unit, 0.0), False, row.span,
    )  # fmt: skip


def _depth(items: tuple[Item, ...]) -> Result:
    pairs = []
    for item in items:
        if item.depth_m is None:
            continue
        behind = [o.depth_m for o in items if o.side != item.side and o.depth_m is not None and meets(item, o)]
        pairs.append((item.depth_m + max(behind, default=0.0), item.name))
    if not pairs:
        return Missing(phrase("no unit states its depth"))
    deepest, name = max(pairs)
    return Figure(deepest * 1000, "mm", phrase("deepest unit with what faces it"), ((phrase("at"), name, ""),), (), 0)


def meets(a: Item, b: Item) -> bool:
    """True where two items take the same rack unit."""
    return a.low <= b.high and b.low <= a.high


NONE = MappingProxyType({"weight": phrase("its kind states no weight"), "load": phrase("its kind states no load")})


def _declared(got: Quantity | None, what: str) -> Result:
    return Figure(got.value, "kg", phrase("as its kind declares")) if got is not None else Missing(NONE[what])


def stood(plan: Plan) -> tuple[Stood, ...]:
    """Every unit that the plan puts on a stand."""
    out = []
    for unit in plan.units.values():
        name = unit.record.get("stand")
        kind = plan.kinds.get(str(name)) if name else None
        if kind is None or unit.spare:
            continue
        weight, load = unit.kind.get("weight") if unit.kind else None, kind.get("load")
        out.append(
            Stood(
                unit, kind.name,
                _declared(weight, "weight"), _declared(load, "load"),
            )
        )  # fmt: skip
    return tuple(out)
