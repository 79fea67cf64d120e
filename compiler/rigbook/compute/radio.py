"""Radio: spacing, intermodulation and bands, and the nearest set of frequencies that is clean."""

from __future__ import annotations

from functools import cached_property
from itertools import pairwise

from rigbook.compute.figure import Figure, Missing, Result
from rigbook.findings.place import Span
from rigbook.language.record import Record
from rigbook.physics.frequency_search import Transmitter, clean_frequencies
from rigbook.physics.intermodulation import THIRD_ORDER, product_count, products
from rigbook.physics.intermodulation_hits import Hit, hits
from rigbook.plan.model import Plan
from rigbook.records import frozen

SPACING_HZ, STEP_HZ, BANDWIDTH_HZ = 350e3, 25e3, 200e3
"""What the language takes where the plan is silent (keys `spacing`, `step`, `bandwidth`)."""
LEAST_GUARD_HZ = 1.0
"""Guard of the search where the plan allows none: a product on the very carrier is what it is there to avoid."""
MOST_TICKS = 4000
"""Products that a drawing shows at most: more than a thousand on a page run into each other."""


@frozen
class Carrier:
    """A radio channel of the plan."""

    name: str
    hz: float
    bandwidth_hz: float
    bands: tuple[tuple[float, float], ...]
    """What the receiver tunes to; empty where its kind does not say."""
    span: Span
    record: Record

    @property
    def frequency(self) -> Figure:
        """Carrier in MHz."""
        return Figure(self.hz / 1e6, "MHz", "as the plan has it", (), (), 3)


@frozen
class Close:
    """Two carriers nearer to each other than the spacing."""

    a: Carrier
    b: Carrier
    apart: Figure


@frozen
class Product:
    """An intermodulation product that lands on a carrier."""

    victim: Carrier
    sources: tuple[Carrier, ...]
    kind: str
    """`2a-b` or `a+b-c`."""
    frequency: Figure
    offset: Figure


class Radio:
    """The radio plan worked out."""

    def __init__(self, plan: Plan) -> None:
        got = plan.sections.get("radio")
        self.record = got if isinstance(got, Record) else None
        self.spacing_hz = self._typed("spacing", SPACING_HZ)
        self.step_hz = self._typed("step", STEP_HZ)
        self.allowed = tuple((a.value, b.value) for a, b in (self.record.get("bands", ()) if self.record else ()))
        rows = self.record.get("channels", ()) if self.record else ()
        made = (_carrier(plan, e.name, e.span, e.value) for e in rows if isinstance(e.value, Record))
        self.carriers = tuple(c for c in made if c is not None and not _spare(plan, c.name))

    def _typed(self, key: str, usual: float) -> float:
        got = self.record.get(key) if self.record else None
        return float(got.value) if got is not None else usual

    def guard_hz(self, carrier: Carrier) -> float:
        """How near a product may come to a carrier."""
        return self._typed("guard", carrier.bandwidth_hz / 2)

    @property
    def spacing(self) -> Figure:
        """Least distance between carriers."""
        return Figure(self.spacing_hz / 1e3, "kHz", self._whence("spacing"), (), (), 0)

    @property
    def step(self) -> Figure:
        """Tuning step of the search."""
        return Figure(self.step_hz / 1e3, "kHz", self._whence("step"), (), (), 0)

    def guard(self, carrier: Carrier) -> Figure:
        """How near a product may come to a carrier."""
        typed = self.record is not None and self.record.get("guard") is not None
        how = self._whence("guard") if typed else "half the bandwidth of the carrier"
        inputs = (("bandwidth", carrier.bandwidth_hz / 1e3, "kHz"),)
        return Figure(self.guard_hz(carrier) / 1e3, "kHz", how, inputs, (), 0)

    def _whence(self, key: str) -> str:
        typed = self.record is not None and self.record.get(key) is not None
        return "as the plan has it" if typed else "default of the language"

    def nearest(self, carrier: Carrier) -> Result:
        """Distance to the nearest other carrier."""
        others = [(abs(c.hz - carrier.hz), c.name) for c in self.carriers if c is not carrier]
        if not others:
            return Missing("no other carrier")
        apart, name = min(others)
        return Figure(apart / 1e3, "kHz", "difference of the carriers", (("to", name, ""),), (), 0)

    @property
    def looked_at(self) -> Figure:
        """Number of products of pairs and triples that were looked at."""
        n = len(self._distinct)
        how = "n(n-1) of two carriers and n(n-1)(n-2)/2 of three"
        return Figure(float(sum(product_count(n))), "", how, (("carriers", float(n), ""),), (), 0)

    @cached_property
    def windows(self) -> tuple[tuple[float, float], ...]:
        """Stretches of spectrum worth drawing, Hz: the allowed bands with a carrier in or near them; else what the
        carriers span.
        """
        margin = 2 * self.spacing_hz
        spans = [(a, b) for a, b in self.allowed if any(a - margin <= c.hz <= b + margin for c in self.carriers)]
        outside = (c.hz for c in self.carriers if not any(a <= c.hz <= b for a, b in spans))
        whole = sorted((*spans, *((hz, hz) for hz in outside)))
        merged: list[tuple[float, float]] = []
        for a, b in ((a - margin, b + margin) for a, b in whole):
            if merged and a <= merged[-1][1]:
                merged[-1] = (merged[-1][0], max(b, merged[-1][1]))
            else:
                merged.append((a, b))
        return tuple(merged)

    @cached_property
    def product_places(self) -> tuple[float, ...]:
        """Where third-order products fall in the windows, Hz; the first `MOST_TICKS`."""
        carriers = [c.hz for c in self._distinct]
        if len(carriers) < 2:
            return ()
        every = sorted({hz for kind in THIRD_ORDER for hz in products(carriers, kind)})
        return tuple(hz for hz in every if any(a <= hz <= b for a, b in self.windows))[:MOST_TICKS]

    @cached_property
    def close(self) -> tuple[Close, ...]:
        """Neighbours that are too near, by frequency."""
        ranked = sorted(self.carriers, key=lambda c: c.hz)
        out = []
        for a, b in pairwise(ranked):
            apart = b.hz - a.hz
            if apart < self.spacing_hz:
                inputs = (("spacing", self.spacing_hz / 1e3, "kHz"),)
                out.append(Close(a, b, Figure(apart / 1e3, "kHz", "difference of the carriers", inputs, (), 0)))
        return tuple(out)

    @cached_property
    def _distinct(self) -> tuple[Carrier, ...]:
        """Carriers on frequencies of their own: two on one frequency are a fault by themselves."""
        seen: dict[int, Carrier] = {}
        for carrier in self.carriers:
            seen.setdefault(round(carrier.hz), carrier)
        return tuple(seen.values())

    @cached_property
    def products(self) -> tuple[Product, ...]:
        """Third-order products of every pair and triple that land on a carrier, the nearest few for each."""
        carriers = self._distinct
        if len(carriers) < 2:
            return ()
        found = hits([c.hz for c in carriers], [self.guard_hz(c) for c in carriers], most_each=3)
        return tuple(self._product(h, carriers) for h in found)

    def _product(self, hit: Hit, carriers: tuple[Carrier, ...]) -> Product:
        used = tuple(carriers[i] for i in hit.sources)
        inputs = tuple((c.name, c.hz / 1e6, "MHz") for c in used)
        assumed = ("says where products fall, not how strong they are",)
        return Product(
            carriers[hit.victim], used, hit.product,
            Figure(hit.frequency_hz / 1e6, "MHz", hit.product, inputs, assumed, 3),
            Figure(hit.offset_hz / 1e3, "kHz", "product less carrier", inputs, assumed, 0),
        )  # fmt: skip

    def bands_of(self, carrier: Carrier) -> tuple[tuple[float, float], ...]:
        """Where a carrier may be tuned: what its receiver takes and the plan allows. Empty: nothing is known."""
        if not self.allowed:
            return carrier.bands
        if not carrier.bands:
            return self.allowed
        both = ((max(a, c), min(b, d)) for a, b in self.allowed for c, d in carrier.bands)
        return tuple((a, b) for a, b in both if a <= b)

    @cached_property
    def proposal(self) -> tuple[tuple[Carrier, Figure | None], ...]:
        """The nearest clean set: each carrier with where it would go; None where no place was found."""
        if not self.carriers:
            return ()
        movable = [Transmitter(c.hz, self.bands_of(c), self.step_hz) for c in self.carriers]
        guard = max(LEAST_GUARD_HZ, *(self.guard_hz(c) for c in self.carriers))
        got = clean_frequencies(movable, self.spacing_hz, guard)
        inputs = (("spacing", self.spacing_hz / 1e3, "kHz"), ("guard", guard / 1e3, "kHz"))
        why = ("a plain search in the order of the plan; a better set may exist",)
        return tuple(
            (c, Figure(hz / 1e6, "MHz", "nearest frequency no product falls on", inputs, why, 3) if hz else None)
            for c, hz in zip(self.carriers, got, strict=True)
        )

    def moved(self, carrier: Carrier, proposed: Figure) -> Figure:
        """How far a carrier is moved by the proposal."""
        inputs = (("from", carrier.hz / 1e6, "MHz"), ("to", proposed.value, "MHz"))
        return Figure(proposed.value * 1e3 - carrier.hz / 1e3, "kHz", "proposed less wanted", inputs, (), 0)

    def outside(self, carrier: Carrier) -> str:
        """What a carrier lies outside of: `allowed`, `receiver`, or nothing."""
        half = carrier.bandwidth_hz / 2
        if self.allowed and not any(a <= carrier.hz - half and carrier.hz + half <= b for a, b in self.allowed):
            return "allowed"
        if carrier.bands and not any(a <= carrier.hz <= b for a, b in carrier.bands):
            return "receiver"
        return ""


def _spare(plan: Plan, name: str) -> bool:
    return name in plan.units and plan.units[name].spare


def _carrier(plan: Plan, name: str, span: Span, record: Record) -> Carrier | None:
    frequency, width = record.get("frequency"), record.get("bandwidth")
    if frequency is None:
        return None
    bands = []
    for kind in (plan.units[name].kind if name in plan.units else None, plan.kinds.get(str(record.get("transmitter")))):
        band = kind.get("band") if kind else None
        if band is not None:
            bands.append((band[0].value, band[1].value))
    both = ((max(a for a, _ in bands), min(b for _, b in bands)),) if bands else ()
    wide = float(width.value) if width is not None else BANDWIDTH_HZ
    return Carrier(name, float(frequency.value), wide, both, record.at("frequency"), record)
