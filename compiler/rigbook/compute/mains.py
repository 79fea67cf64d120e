"""Mains: what each unit draws, what that makes of each circuit, phase and supply, and the order of switching."""

from __future__ import annotations

import math

from rigbook.compute.draws import PF, Draw, draw_of, needs_mains
from rigbook.compute.feeds import Feed, feed_of, phase_feed, together
from rigbook.compute.figure import Figure, Missing, Result
from rigbook.compute.leads import leads
from rigbook.compute.limits import Limits
from rigbook.language.record import Record
from rigbook.physics.mains import neutral_current, phase_unbalance, single_phase_current
from rigbook.plan.model import Plan, Unit
from rigbook.records import frozen
from rigbook.text.phrase import phrase
from rigbook.units.quantity import Amount

VOLTS = 230.0
ORDER = (
    "power distribution",
    "line source",
    "player",
    "recorder",
    "radio",
    "desk",
    "stage box",
    "splitter",
    "processor",
    "powered speaker",
    "amplifier",
)
"""Switching on goes from source to loudspeaker, amplifiers last; off the other way round (common practice)."""


@frozen
class Circuit:
    """A circuit with everything on it."""

    name: str
    supply: str
    phase: str
    volts: float
    rating: float | None
    units: tuple[str, ...]
    unknown: tuple[str, ...]
    """Units on it whose draw no kind states."""
    idle: Figure
    eighth: Figure
    full: Figure
    allowed: Result
    """Lasting load that the rating leaves."""
    left: Result
    """What of it is not used with loud music; below nought where the circuit is overloaded."""
    feed: Feed
    record: Record

    @property
    def drop(self) -> Result:
        """Voltage lost along its own feed with loud music, in %."""
        return self.feed.drop

    @property
    def drop_volts(self) -> Result:
        """The same in volts."""
        return self.feed.drop_volts


@frozen
class Supply:
    """A supply with the currents of its phases at 1/8 power."""

    name: str
    phases: int
    rating: float | None
    by_phase: tuple[tuple[str, Figure], ...]
    unbalance: Result
    neutral: Result
    feed: Feed
    """The cable that brings it to where its circuits begin; of three phases the one that loses most."""
    lost: tuple[tuple[str, float], ...]
    """By phase, the share of the voltage lost along that cable, in %, 0 or more."""
    record: Record


class Mains:
    """The power plan worked out."""

    def __init__(self, plan: Plan, limits: Limits) -> None:
        self._plan, self._limits = plan, limits
        got = plan.sections.get("power")
        self.record = got if isinstance(got, Record) else None
        self.supply_records = _records(self.record, "supplies")
        self.circuit_records = _records(self.record, "circuits")
        fed = {str(unit): name for name, record in self.circuit_records.items() for unit in record.get("feeds", ())}
        self.circuit_of = fed | _by_cable(plan, fed)
        self.draws = tuple(self._draw(u) for u in plan.units.values() if not u.spare and needs_mains(u))
        self.circuits = tuple(self._circuit(n, r) for n, r in self.circuit_records.items())
        self.supplies = tuple(self._supply(n, r) for n, r in self.supply_records.items())
        ratings = {c.name: c.rating for c in self.circuits if c.rating is not None}
        self.leads = tuple(leads(plan, self.circuit_of, ratings, limits))

    def volts(self, circuit: str) -> float:
        """Voltage of a circuit's supply, line to neutral."""
        record = self.circuit_records.get(circuit)
        supply = self.supply_records.get(str(record.get("supply"))) if record else None
        typed = supply.get("voltage") if supply else None
        if typed is None and len(self.supply_records) == 1:
            typed = next(iter(self.supply_records.values())).get("voltage")
        return float(typed.value) if typed is not None else VOLTS

    def _supply_volts(self, record: Record) -> float:
        typed = record.get("voltage")
        return float(typed.value) if typed is not None else VOLTS

    def line_volts(self, supply: Supply) -> Result:
        """Voltage between two phases of a supply."""
        volts = self._supply_volts(supply.record)
        if supply.phases < 2:
            return Missing(phrase("one phase only"))
        inputs = ((phrase("voltage to neutral"), volts, "V"),)
        return Figure(math.sqrt(3) * volts, "V", phrase("√3 times the voltage to neutral"), inputs, (), 0)

    def whole_drop(self, circuit: Circuit) -> Result:
        """Voltage lost from the supply to the outlets of a circuit, in %: along the supply's feed and along its own."""
        supply = next((s for s in self.supplies if s.name == circuit.supply), None)
        before = dict(supply.lost).get(circuit.phase) if supply else None
        return together(circuit.feed, supply.feed if supply else None, before)

    @property
    def order(self) -> tuple[str, ...]:
        """Units in the order of switching on: as typed, then the others from source to loudspeaker."""
        typed = [str(n) for n in (self.record.get("order", ()) if self.record else ())]
        rank = {family: i for i, family in enumerate(ORDER)}
        rest = [d.unit for d in self.draws if d.unit not in typed]
        rest.sort(key=lambda n: rank.get(self._plan.units[n].family, 0))
        last = [n for n in rest if self._plan.units[n].family in ("powered speaker", "amplifier")]
        early = [n for n in rest if n not in last]
        typed_known = [n for n in typed if n in self._plan.units]
        return tuple(typed_known + rest) if typed_known else (*early, *last)

    def _draw(self, unit: Unit) -> Draw:
        circuit = self.circuit_of.get(unit.name, "")
        return draw_of(unit, circuit, self.volts(circuit))

    def _circuit(self, name: str, record: Record) -> Circuit:
        on = [d for d in self.draws if d.circuit == name]
        fed = tuple(str(u) for u in record.get("feeds", ()))
        known = {d.unit for d in on if isinstance(d.idle, Figure) or isinstance(d.eighth, Figure)}
        volts, other = self.volts(name), record.get("other-load")
        rating = record.get("rating")
        rated = float(rating.value) if rating is not None else None

        how = phrase("sum of the apparent powers over %(voltage)s", voltage=Amount(f"{volts:g}", "V"))

        def total(which: str) -> Figure:
            parts: list[tuple[str, float | str, str]] = [
                (d.unit, got, "VA") for d in on if (got := d.apparent(which)) is not None
            ]
            assumed = [words for d in on for words in (*assumed_of(d, which), *d.assumptions)]
            if other is not None:
                parts.append((phrase("other load"), other.value, "VA"))
                assumed.append(PF)
            apparent = sum(float(p[1]) for p in parts)
            said = tuple(dict.fromkeys(assumed))
            return Figure(single_phase_current(apparent, volts), "A", how, tuple(parts), said)

        eighth, allowed = total("eighth"), self._allowed(rated)
        feed = feed_of(record, self._limits, eighth.value, volts, rated)
        return Circuit(
            name, str(record.get("supply") or ""), str(record.get("phase") or "L1"), volts, rated, fed,
            tuple(u for u in fed if u not in known and u in self._plan.units and needs_mains(self._plan.units[u])),
            total("idle"), eighth, total("full"), allowed, _left(allowed, eighth), feed, record,
        )  # fmt: skip

    def _allowed(self, rating: float | None) -> Result:
        if rating is None:
            return Missing(phrase("the circuit states no rating"))
        share = self._limits["circuit-share"]
        inputs = ((phrase("rating"), rating, "A"), (phrase("share"), 100 * share, "%"))
        said = (self._limits.said("circuit-share"),)
        return Figure(rating * share, "A", phrase("rating times the share for lasting loads"), inputs, said)

    def _supply(self, name: str, record: Record) -> Supply:
        rating, phases = record.get("rating"), int(record.get("phases") or 1)
        by_phase: dict[str, float] = {f"L{i + 1}": 0.0 for i in range(phases)}
        for circuit in self.circuits:
            if circuit.supply == name:
                by_phase[circuit.phase] = by_phase.get(circuit.phase, 0.0) + circuit.eighth.value
        how = phrase("sum of its circuits at 1/8 power")
        mine = (c.eighth.assumptions for c in self.circuits if c.supply == name)
        said = tuple(dict.fromkeys(words for each in mine for words in each))
        figures = tuple((p, Figure(a, "A", how, (), said)) for p, a in by_phase.items())
        amps = list(by_phase.values())
        used = [a for a in amps if a]
        single = Missing(phrase("one phase only"))
        mean = phrase("largest departure from the mean of the phases in use")
        unbalance: Result = single
        if len(used) > 1:
            unbalance = Figure(100 * phase_unbalance(used), "%", mean, (), said, 0)
        neutral: Result = single
        if len(amps) == 3:
            neutral = Figure(
                neutral_current(*amps), "A", phrase("phasors 120° apart"), (), (*said, phrase("no harmonics"))
            )
        rated = float(rating.value) if rating is not None else None
        feed, lost = phase_feed(record, self._limits, by_phase, self._supply_volts(record), rated)
        return Supply(name, phases, rated, figures, unbalance, neutral, feed, lost, record)


def assumed_of(draw: Draw, which: str) -> tuple[str, ...]:
    """What one of its draws assumes."""
    got = getattr(draw, which)
    return got.assumptions if isinstance(got, Figure) else ()


def _left(allowed: Result, used: Figure) -> Result:
    if isinstance(allowed, Missing):
        return allowed
    inputs = ((phrase("allowed"), allowed.value, "A"), (phrase("used"), used.value, "A"))
    return Figure(
        allowed.value - used.value, "A", phrase("allowed less the current at 1/8 power"), inputs, used.assumptions
    )


def _by_cable(plan: Plan, fed: dict[str, str]) -> dict[str, str]:
    """Circuits of units that a mains cable joins to a distribution on a circuit, over several if need be."""
    sources = {
        cable.end.unit: cable.start.unit
        for cable in plan.cables
        if (unit := plan.units.get(cable.start.unit)) and unit.family == "power distribution"
    }
    out = {}
    for name in sources:
        above, seen = name, set[str]()
        while above not in fed and above in sources and above not in seen:
            seen.add(above)
            above = sources[above]
        if name not in fed and above in fed:
            out[name] = fed[above]
    return out


def _records(section: Record | None, key: str) -> dict[str, Record]:
    return {e.name: e.value for e in (section.get(key, ()) if section else ()) if isinstance(e.value, Record)}
