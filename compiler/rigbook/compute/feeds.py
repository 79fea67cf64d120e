"""Feeds: the cable of a circuit or of a whole supply, what it loses and what current it carries for long."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal

from rigbook.compute.copper import core_resistance, said_of
from rigbook.compute.figure import Figure, Input, Missing, Result, worked
from rigbook.compute.limits import Limits
from rigbook.language.record import Record
from rigbook.physics.ampacity import AREAS_MM2, air_factor, ampacity, gauge_ampacity, group_factor
from rigbook.physics.ampacity import worst_phase_drop as phase_drop
from rigbook.physics.conductors import copper_factor
from rigbook.physics.errors import OutOfRange
from rigbook.physics.mains import voltage_drop
from rigbook.records import frozen
from rigbook.text.phrase import phrase
from rigbook.units.gauge import gauge_number
from rigbook.units.quantity import Amount, Quantity

BY_TABLE = phrase("PVC insulation (70 °C), IEC 60364-5-52, tables B.52.2, B.52.4 and B.52.10 (from memory)")
BY_GAUGE = phrase("insulation of 60 °C, NEC (NFPA 70) 310.16 (from memory)")
BY_CORD = phrase("flexible cord, BS 7671, table 4F3A (from memory)")
LEFT_OUT = phrase("fault currents, sun and cable left on its drum are left out; the local code decides")
GAUGE_C = 60.0
PVC_C = 70.0


@frozen
class Feed:
    """A cable of the mains."""

    drop: Result
    """Voltage lost along it with loud music, in %."""
    drop_volts: Result
    carries: Result
    """Current that it carries for long, A."""
    least_area: float | None
    """Smallest standard area in mm² that carries what its breaker lets through; None where no rating is known."""


def feed_of(record: Record, limits: Limits, amps: float, volts: float, rating: float | None) -> Feed:
    """The cable of a circuit of one phase."""
    area, length = record.get("area"), record.get("length")
    carries = carried(area, record, limits, 2)
    least = least_area(record, limits, rating, 2)
    if area is None or length is None:
        none = Missing(phrase("the circuit states no length and area of its cable"))
        return Feed(none, none, carries, least)
    inputs, assumed = _said(area, length, amps, limits)

    def share() -> Figure:
        lost = voltage_drop(_ohm_per_m(area, limits), length.value, amps, volts).share
        how = phrase("2·L·R'·I over the supply voltage")
        return Figure(100 * min(lost, 1.0), "%", how, inputs, (*assumed, *_all_of_it(lost)))

    def lost_volts() -> Figure:
        lost = voltage_drop(_ohm_per_m(area, limits), length.value, amps, volts)
        return Figure(min(lost.volts, volts), "V", "2·L·R'·I", inputs, (*assumed, *_all_of_it(lost.share)))

    return Feed(worked(share), worked(lost_volts), carries, least)


def phase_feed(
    record: Record, limits: Limits, by_phase: Mapping[str, float], volts: float, rating: float | None
) -> tuple[Feed, tuple[tuple[str, float], ...]]:
    """The cable of a supply, and what each of its phases loses on it in %.

    No less than nothing: the loads of the other phases, which may lift this one, can be switched off.
    """
    area, length = record.get("area"), record.get("length")
    if len(by_phase) == 1:
        ((phase, amps),) = by_phase.items()
        feed = feed_of(record, limits, amps, volts, rating)
        return feed, ((phase, feed.drop.value),) if isinstance(feed.drop, Figure) else ()
    carries, least = carried(area, record, limits, 3), least_area(record, limits, rating, 3)
    if area is None or length is None:
        none = Missing(phrase("the supply states no length and area of its cable"))
        return Feed(none, none, carries, least), ()
    whole = sum(by_phase.values())

    def of(phase: str) -> Result:
        amps = by_phase[phase]
        inputs, assumed = _said(area, length, amps, limits)
        other = ((phrase("current of the other phases"), whole - amps, "A"),)
        how = phrase("L·R'·(2·Ia − (Ib + Ic)/2) over the voltage to neutral, of the phase that loses most")

        def share() -> Figure:
            lost = phase_drop(_ohm_per_m(area, limits), length.value, amps, whole - amps, volts)
            said = (*assumed, phrase("no harmonics"), *_all_of_it(lost))
            return Figure(100 * min(lost, 1.0), "%", how, (*inputs, *other), said)

        return worked(share)

    lost = {p: got for p in by_phase if isinstance(got := of(p), Figure)}
    if not lost:
        why = of(next(iter(by_phase)))
        return Feed(why, why, carries, least), ()
    worst = max(lost.values(), key=lambda f: f.value)
    in_volts = Figure(worst.value / 100 * volts, "V", phrase("its share of the voltage to neutral"), worst.inputs)
    return Feed(worst, in_volts, carries, least), tuple((p, max(f.value, 0.0)) for p, f in lost.items())


def together(own: Feed, before: Feed | None, before_percent: float | None) -> Result:
    """Voltage lost from the supply to the outlets: along the supply's feed in this phase, and along the circuit's."""
    if before is None or before_percent is None or isinstance(before.drop, Missing):
        return own.drop
    if isinstance(own.drop, Missing):
        return own.drop
    parts = ((phrase("feed of the supply"), before_percent, "%"), (phrase("feed of the circuit"), own.drop.value, "%"))
    said = tuple(dict.fromkeys((*own.drop.assumptions, *before.drop.assumptions)))
    lost = min(own.drop.value + before_percent, 100.0)
    return Figure(lost, "%", phrase("sum of both feeds"), parts, said)


def carried(area: Quantity | None, record: Record | None, limits: Limits, loaded: Literal[2, 3]) -> Result:
    """Current that a cable carries for long as its record says that it lies, A."""
    if area is None:
        return Missing(phrase("the plan states no area of this cable"))
    gauge = gauge_number(area.text)
    laid, bunch = _laid(record)
    source = BY_GAUGE if gauge else BY_TABLE if area.value * 1e6 >= AREAS_MM2[0] else BY_CORD
    warm = limits["feed-air"]
    inputs = (
        (phrase("area"), area.value * 1e6, "mm²"),
        *(() if gauge else ((phrase("laid"), laid, ""),)),
        (phrase("loaded cores"), loaded, ""),
        (phrase("cables together"), bunch, ""),
        (phrase("air"), warm, "°C"),
    )
    usual = () if (record and record.get("laid")) or gauge else (phrase("lies on a surface (method C)"),)
    alone = () if record and record.get("bunch") else (phrase("no other loaded cable beside it"),)
    said = (source, *usual, *alone, phrase("air at %(degrees)s", degrees=Amount(f"{warm:g}", "°C")), LEFT_OUT)
    how = phrase("table, times the factors for air and for cables that lie together")
    return worked(lambda: Figure(_amps(area, laid, bunch, warm, loaded), "A", how, inputs, said))


def least_area(record: Record, limits: Limits, rating: float | None, loaded: Literal[2, 3]) -> float | None:
    """Smallest standard area in mm² that carries a rating; None where there is none in the table."""
    if rating is None:
        return None
    laid, bunch = _laid(record)
    try:
        factor = _factor(bunch, limits["feed-air"], PVC_C)
    except OutOfRange:
        return None
    return next((a for a in AREAS_MM2 if ampacity(a, laid, loaded) * factor >= rating), None)


def _all_of_it(share: float) -> tuple[str, ...]:
    """A load that draws so much lets its own voltage fall: more than all of it cannot be lost."""
    return (phrase("no more than the whole voltage"),) if share > 1 else ()


def _amps(area: Quantity, laid: str, bunch: int, air_c: float, loaded: Literal[2, 3]) -> float:
    gauge = gauge_number(area.text)
    if gauge is not None:
        return gauge_ampacity(gauge[1]) * _factor(bunch, air_c, GAUGE_C)
    return ampacity(round(area.value * 1e6, 6), laid, loaded) * _factor(bunch, air_c, PVC_C)


def _factor(bunch: int, air_c: float, insulation_c: float) -> float:
    return air_factor(air_c, insulation_c) * group_factor(bunch)


def _laid(record: Record | None) -> tuple[str, int]:
    typed = record.get("bunch") if record else None
    return str((record.get("laid") if record else None) or "C"), int(typed) if typed is not None else 1


def _ohm_per_m(area: Quantity, limits: Limits) -> float:
    return core_resistance(area) * copper_factor(limits["temperature"])


def _said(area: Quantity, length: Quantity, amps: float, limits: Limits) -> tuple[tuple[Input, ...], tuple[str, ...]]:
    inputs: tuple[Input, ...] = (
        (phrase("length"), length.value, "m"), (phrase("area"), area.value * 1e6, "mm²"),
        (phrase("current"), amps, "A"),
        (phrase("copper"), limits["temperature"], "°C"),
    )  # fmt: skip
    return inputs, (phrase("reactance left out"), said_of(area))
