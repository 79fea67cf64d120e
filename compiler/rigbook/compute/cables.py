"""What the speaker cables between an amplifier output and its boxes cost: resistance, level, damping.

Boxes that share a cable share its current, so each output is solved as a ladder of cable resistances and nominal
impedances (Ohm's law): a link-through to a second box makes the first cable lose more, for both. Resistances are those
of `copper.py`, at the temperature of the plan's limits.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator

from rigbook.compute.copper import core_resistance, said_of
from rigbook.compute.figure import Figure, Missing, Result, worked
from rigbook.compute.limits import Limits
from rigbook.compute.loads import AmpChannel, Driven
from rigbook.graph.rig import Rig
from rigbook.physics.cable_loss import damping_factor
from rigbook.physics.conductors import CLASS_5_OHM_PER_KM, flexible_resistance, loop_resistance
from rigbook.physics.errors import OutOfRange
from rigbook.plan.model import Cable
from rigbook.records import changing, field, frozen
from rigbook.text.phrase import phrase
from rigbook.units.quantity import Amount, Quantity

REFERENCE_OHM = 8.0
"""Load to which the damping factor of a kind belongs, as the language says."""
THICKEST_MM2 = 10.0
"""Speaker connectors take no thicker cores (common practice)."""


@frozen
class Run:
    """The cables on the way from an amplifier output to one box."""

    amplifier: str
    """`unit/port` of the output."""
    box: str
    cables: tuple[Cable, ...]
    """In order, from the amplifier on."""
    loop: Result
    """Resistance there and back, all cables on the way together, in Ω."""
    loss: Result
    """Level lost at the box against the same amplifier without cable, in dB."""
    damping: Result
    """Damping factor at the terminals of the box; without unit."""
    next_area: float | None
    """Smallest standard area, in mm², of every cable of this output that keeps within the plan's limit of loss; None
    where no cable that fits the connectors does.
    """


@changing
class _Point:
    """A point of the ladder: where a cable ends."""

    admittance: float = 0.0
    boxes: list[str] = field(default_factory=list)
    onward: dict[str, tuple[Cable, _Point]] = field(default_factory=dict)


def runs(rig: Rig, channels: Iterable[AmpChannel], limits: Limits) -> tuple[Run, ...]:
    """The cables to every passive box in use, in plan order of the amplifiers."""
    return tuple(run for channel in channels for run in _channel(rig, channel, limits))


def _channel(rig: Rig, channel: AmpChannel, limits: Limits) -> Iterator[Run]:
    top = _Point()
    ways = {here.box: _cables(rig, here) for here in channel.boxes}
    for here in channel.boxes:
        point = top
        for cable in ways[here.box]:
            point = point.onward.setdefault(cable.name, (cable, _Point()))[1]
        point.boxes.append(here.box)
        point.admittance += 1 / here.impedance_ohm if here.impedance_ohm else 0.0
    celsius, most = limits["temperature"], limits["speaker-cable-loss"]
    losses = dict(_losses(top, celsius, None))
    for here in channel.boxes:
        way = ways[here.box]
        area = None
        if losses.get(here.box, 0.0) > most:
            area = next((a for a in CLASS_5_OHM_PER_KM if dict(_losses(top, celsius, a))[here.box] <= most), None)
        loop = _loop(way, celsius)
        yield Run(
            channel.socket,
            here.box,
            way,
            loop,
            _loss(here, way, loop, losses[here.box], len(channel.boxes)),
            _damping(rig, channel, here, loop),
            area if area is not None and area <= THICKEST_MM2 else None,
        )


def _cables(rig: Rig, here: Driven) -> tuple[Cable, ...]:
    return tuple(cable for edge in here.way if (cable := rig.cable(edge)) is not None)


def _losses(
    point: _Point, celsius: float, area_mm2: float | None, before_db: float = 0.0
) -> Iterator[tuple[str, float]]:
    """Level lost at each box below a point, in dB; with an area, as if every cable had it."""
    for box in point.boxes:
        yield box, before_db
    for cable, after in point.onward.values():
        ohm = _resistance(cable, celsius, area_mm2) or 0.0
        below = _admittance(after, celsius, area_mm2)
        yield from _losses(after, celsius, area_mm2, before_db + 20 * math.log10(1 + ohm * below))


def _admittance(point: _Point, celsius: float, area_mm2: float | None) -> float:
    """What a point draws with all that hangs on it, in siemens."""
    total = point.admittance
    for cable, after in point.onward.values():
        below = _admittance(after, celsius, area_mm2)
        total += below / (1 + below * (_resistance(cable, celsius, area_mm2) or 0.0))
    return total


def _resistance(cable: Cable, celsius: float, area_mm2: float | None = None) -> float | None:
    """Resistance of a cable there and back, in Ω; None where its area or its length is not known."""
    area = _area(cable)
    if area is None or cable.length is None:
        return None
    try:
        core = flexible_resistance(area_mm2) if area_mm2 else core_resistance(area)
        return loop_resistance(core, cable.length.value, celsius)
    except OutOfRange:
        return None


def _area(cable: Cable) -> Quantity | None:
    area = cable.kind.get("area") if cable.kind else None
    return area if isinstance(area, Quantity) else None


def _loop(way: tuple[Cable, ...], celsius: float) -> Result:
    each = [_resistance(cable, celsius) for cable in way]
    for cable, ohm in zip(way, each, strict=True):
        if ohm is None:
            why = phrase("the cable `%(cable)s` states no length", cable=cable.name)
            if cable.length is not None:
                why = phrase(
                    "the cable `%(cable)s` states no conductor area in the range of the table", cable=cable.name
                )
            return Missing(why)
    inputs = tuple((cable.name, ohm or 0.0, "Ω") for cable, ohm in zip(way, each, strict=True))
    said = tuple(dict.fromkeys(said_of(area) for cable in way if (area := _area(cable))))
    return Figure(sum(o or 0.0 for o in each), "Ω", phrase("2·L·R′ of each cable"), inputs, said, 3)


def _loss(here: Driven, way: tuple[Cable, ...], loop: Result, loss_db: float, boxes: int) -> Result:
    if isinstance(loop, Missing):
        return loop
    if here.impedance_ohm is None:
        return Missing(phrase("the kind of `%(unit)s` states no impedance", unit=here.box))
    inputs = (("resistance of the cable", loop.value, "Ω"), ("impedance", here.impedance_ohm, "Ω"))
    shared = (phrase("boxes on a shared cable share its current"),) if boxes > 1 and len(way) > 0 else ()
    return Figure(loss_db, "dB", phrase("20·lg(1 + Rc/Z) of each cable"), inputs, (*loop.assumptions, *shared), 2)


def _damping(rig: Rig, channel: AmpChannel, here: Driven, loop: Result) -> Result:
    if isinstance(loop, Missing):
        return loop
    kind, ohm = rig.plan.units[channel.amplifier].kind, here.impedance_ohm
    factor = kind.get("damping-factor") if kind else None
    if factor is None:
        return Missing(phrase("the kind of `%(unit)s` states no damping factor", unit=channel.amplifier))
    if ohm is None:
        return Missing(phrase("the kind of `%(unit)s` states no impedance", unit=here.box))
    # the outputs of a bridged pair stand in series
    own = float(factor) / 2 if channel.bridged else float(factor)
    inputs = (
        ("damping factor of the amplifier", own, ""),
        ("resistance of the cable", loop.value, "Ω"),
        ("impedance", ohm, "Ω"),
    )
    why = (
        *loop.assumptions,
        phrase("damping factor of the amplifier stated at %(load)s", load=Amount(f"{REFERENCE_OHM:g}", "Ω")),
    )
    return worked(
        lambda: Figure(damping_factor(own, REFERENCE_OHM, loop.value, ohm), "", phrase("Z/(Zout + Rc)"), inputs, why, 0)
    )
