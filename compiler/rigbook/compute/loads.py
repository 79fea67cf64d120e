"""What each amplifier channel drives: load, power, voltage, and where a limiter should act."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from rigbook.compute.figure import Figure, Input, Missing, Result, value_of, worked
from rigbook.graph import kinds as k
from rigbook.graph.arrivals import Arrival
from rigbook.graph.rig import Edge, Rig
from rigbook.physics.amplifiers import bridged_power, limiter_volts, power_at_input, rated_power, volts_for_power
from rigbook.physics.audio_units import volts_to_dbu
from rigbook.physics.loads import bridged_half_load, parallel_load
from rigbook.plan.model import Kind, Unit
from rigbook.records import frozen
from rigbook.text.phrase import joined, phrase
from rigbook.units.quantity import Amount

NOMINAL = phrase("nominal impedances, added as resistances")
UNDECLARED = phrase("`%(kind)s` declares power at %(loads)s, not at %(load)s")
HALF_UNDECLARED = phrase("`%(kind)s` declares power at %(loads)s, not at the %(load)s that each half of the pair sees")


@frozen
class Driven:
    """A box on an amplifier channel: the way to it, and what it gets at full power."""

    box: str
    way: tuple[Edge, ...]
    impedance_ohm: float | None
    power: Result
    """Power at the box when the amplifier gives its rated power, loss in the cable left out."""
    continuous_w: float | None
    peak_w: float | None


@frozen
class AmpChannel:
    """One output of an amplifier with everything on it."""

    amplifier: str
    output: str
    mode: str
    bridged: bool
    boxes: tuple[Driven, ...]
    load: Result
    minimum: Result
    power: Result
    """Rated power into this load."""
    volts: Result
    """Voltage at that power."""
    gain: Result
    """Voltage gain with its attenuator as set."""
    limiter: Result
    """Voltage at which an rms limiter keeps the least of the boxes within its continuous power."""
    limiter_input: Result
    """The same as a level at the amplifier's input."""

    @property
    def socket(self) -> str:
        """`unit/port` of the output."""
        return f"{self.amplifier}/{self.output}"


def amp_channels(rig: Rig) -> tuple[AmpChannel, ...]:
    """Every output of every amplifier in use that drives a box, in plan order."""
    found = []
    for unit in rig.plan.units.values():
        if unit.family != "amplifier" or unit.spare or unit.kind is None:
            continue
        for port in unit.kind.ports.values():
            if (
                port.direction == "out"
                and port.level in ("speaker", "100 V line")
                and _in_use(unit, unit.kind, port.name)
            ):
                driven = tuple(_driven(rig, f"{unit.name}/{port.name}"))
                if driven:
                    found.append(_channel(rig, unit, unit.kind, port.name, driven))
    return tuple(found)


def mode_of(unit: Unit, kind: Kind) -> str:
    """The mode an amplifier is switched to: as typed, else the first of its kind."""
    return str(unit.record.get("mode") or next(iter(kind.modes), ""))


def _in_use(unit: Unit, kind: Kind, output: str) -> bool:
    """False for an output that the mode leaves out, as the second of a bridged pair."""
    routes = kind.modes.get(mode_of(unit, kind), ())
    return not routes or any(b == output for _, b in routes)


def limited_w(channel: AmpChannel, here: Driven, arrival: Arrival | None) -> float | None:
    """Power that the lowest limiter on the way lets through to a box; None where there is none, or it is not known."""
    gain, ohm = value_of(channel.gain), here.impedance_ohm
    levels = [p.limiter.value for _, p in arrival.stages if p.limiter] if arrival else []
    return power_at_input(gain, min(levels), ohm) if levels and gain is not None and ohm else None


def _driven(rig: Rig, socket: str) -> Iterator[tuple[str, tuple[Edge, ...]]]:
    """Boxes reached from an amplifier output by cable and link, each with its way."""
    todo: list[tuple[str, tuple[Edge, ...]]] = [(socket, ())]
    seen = {socket}
    while todo:
        node, way = todo.pop(0)
        if node not in rig.net:
            continue
        for edge, data in rig.edges_out(node):
            if data["kind"] == k.SOUND:
                yield edge[1], way
            elif data["kind"] in (k.CABLE, k.LINK, k.INSIDE) and edge[1] not in seen:
                seen.add(edge[1])
                todo.append((edge[1], (*way, edge)))


def _amount(kind: Kind | None, key: str) -> float | None:
    got = kind.get(key) if kind else None
    return float(got.value) if got is not None else None


def _channel(
    rig: Rig, unit: Unit, kind: Kind, output: str, found: tuple[tuple[str, tuple[Edge, ...]], ...]
) -> AmpChannel:
    mode = mode_of(unit, kind)
    bridged = "bridge" in mode
    kinds = [rig.plan.units[box].kind for box, _ in found]
    ohms = [_amount(box_kind, "impedance") for box_kind in kinds]
    load = _load(ohms, [box for box, _ in found])
    power = _power(kind, load, bridged)
    volts = _volts(power, load)
    gain = _gain(unit, kind, bridged)
    limiter = _limiter(kinds, ohms)
    return AmpChannel(
        unit.name,
        output,
        mode,
        bridged,
        tuple(
            Driven(box, way, ohm, _share(volts, ohm), _amount(box_kind, "rated-power"), _amount(box_kind, "peak-power"))
            for (box, way), box_kind, ohm in zip(found, kinds, ohms, strict=True)
        ),
        load,
        _minimum(kind, bridged),
        power,
        volts,
        gain,
        limiter,
        _at_input(limiter, gain),
    )


def _load(ohms: list[float | None], boxes: list[str]) -> Result:
    known = [o for o in ohms if o is not None]
    if len(known) < len(ohms):
        lacking = next(b for b, o in zip(boxes, ohms, strict=True) if o is None)
        return Missing(phrase("the kind of `%(unit)s` states no impedance", unit=lacking))
    inputs = tuple((box, ohm, "Ω") for box, ohm in zip(boxes, known, strict=True))
    how = phrase("impedances in parallel, 1/Z = Σ 1/Zi")
    return worked(lambda: _ohms(parallel_load(known), how, inputs, (NOMINAL,)))


def _ohms(ohm: float, how: str, inputs: tuple[Input, ...], assumed: tuple[str, ...] = ()) -> Figure:
    """An impedance; two places where one would hide what it is, as of 2.67 Ω."""
    return Figure(ohm, "Ω", how, inputs, assumed, 1 if abs(ohm - round(ohm, 1)) < 1e-6 else 2)


def _minimum(kind: Kind, bridged: bool) -> Result:
    """The least load allowed in the mode; for a bridged pair twice that of a channel where it is not declared."""
    own = _amount(kind, "minimum-load-bridged") if bridged else None
    single = _amount(kind, "minimum-load")
    if own is not None:
        return _ohms(own, phrase("as its kind declares for a bridged pair"), (("kind", kind.name, ""),))
    if single is None:
        return Missing(phrase("the kind `%(kind)s` states no least load", kind=kind.name))
    if bridged:
        why = (phrase("each half of a bridged pair sees half the load"),)
        return _ohms(2 * single, phrase("twice the least load of one channel"), (("one channel", single, "Ω"),), why)
    return _ohms(single, phrase("as its kind declares"), (("kind", kind.name, ""),))


def _power(kind: Kind, load: Result, bridged: bool) -> Result:
    if isinstance(load, Missing):
        return load
    ohm = load.value
    points = tuple((a.value, b.value) for a, b in kind.get("power", ()))
    both = tuple((a.value, b.value) for a, b in kind.get("bridged-power", ()))
    inputs = (("load", ohm, "Ω"), ("kind", kind.name, ""))
    between = phrase("declared power, interpolated between declared loads")
    if bridged and both:
        return _declared(kind, both, ohm, lambda: Figure(rated_power(both, ohm), "W", between, inputs, (), 0))
    if not points:
        return Missing(phrase("the kind `%(kind)s` states no power", kind=kind.name))
    if bridged:
        half = bridged_half_load(ohm)
        twice = phrase("twice the declared power of one channel at half the load")
        why = (phrase("the kind declares no bridged power"),)

        def whole() -> Figure:
            return Figure(bridged_power(rated_power(points, half)), "W", twice, inputs, why, 0)

        return _declared(kind, points, half, whole, halved=True)
    return _declared(kind, points, ohm, lambda: Figure(rated_power(points, ohm), "W", between, inputs, (), 0))


def _declared(
    kind: Kind, points: tuple[tuple[float, float], ...], ohm: float, make: Callable[[], Figure], halved: bool = False
) -> Result:
    """The figure, or that its kind declares no power at that load."""
    got = worked(make)
    if isinstance(got, Figure):
        return got
    loads = joined(Amount(f"{declared:g}", "Ω") for declared, _ in points)
    said = HALF_UNDECLARED if halved else UNDECLARED
    return Missing(phrase(said, kind=kind.name, loads=loads, load=Amount(f"{ohm:.3g}", "Ω")))


def _volts(power: Result, load: Result) -> Result:
    if isinstance(power, Missing):
        return power
    watts, ohm = power.value, value_of(load) or 0.0
    inputs = (("power", watts, "W"), ("load", ohm, "Ω"))
    return worked(lambda: Figure(volts_for_power(watts, ohm), "V", "√(P·Z)", inputs, (), 1))


def _share(volts: Result, ohm: float | None) -> Result:
    if isinstance(volts, Missing):
        return volts
    if ohm is None:
        return Missing(phrase("no impedance is stated"))
    inputs = (("voltage", volts.value, "V"), ("impedance", ohm, "Ω"))
    return Figure(
        volts.value**2 / ohm, "W", phrase("U²/Z of this box"), inputs, (phrase("loss in the cable left out"),), 0
    )


def _gain(unit: Unit, kind: Kind, bridged: bool) -> Result:
    gain, sensitivity = _amount(kind, "gain"), _amount(kind, "input-sensitivity")
    turned = unit.record.get("attenuation")
    attenuator = -abs(float(turned.value)) if turned is not None else 0.0
    assumed = () if turned is not None else (phrase("input attenuators fully open"),)
    if gain is None and sensitivity and kind.get("power"):
        ohm, watts = (q.value for q in kind.get("power")[-1])
        gain = volts_to_dbu(volts_for_power(watts, ohm)) - volts_to_dbu(sensitivity)
        assumed = (*assumed, phrase("input sensitivity taken to hold at %(load)s", load=Amount(f"{ohm:g}", "Ω")))
    if gain is None:
        return Missing(phrase("the kind `%(kind)s` states neither gain nor input sensitivity", kind=kind.name))
    if bridged:
        assumed = (*assumed, phrase("a bridged pair has 6.02 dB more gain"))
    whole = gain + attenuator + (6.0206 if bridged else 0.0)
    return Figure(
        whole, "dB", phrase("gain and attenuator"), (("gain", gain, "dB"), ("attenuator", attenuator, "dB")), assumed
    )


def _limiter(kinds: list[Kind | None], ohms: list[float | None]) -> Result:
    ratings = [_amount(kind, "rated-power") for kind in kinds]
    pairs = [(w, o) for w, o in zip(ratings, ohms, strict=True) if w is not None and o is not None]
    if len(pairs) < len(kinds):
        return Missing(phrase("not every box on this channel states its continuous power and impedance"))
    watts, ohm = min(pairs, key=lambda p: p[0] * p[1])
    inputs = (("continuous power", watts, "W"), ("impedance", ohm, "Ω"))
    why = (phrase("a limiter of the rms value, slow against the signal"), phrase("the maker's own figure comes first"))
    return worked(
        lambda: Figure(limiter_volts(watts, ohm), "V", phrase("√(P·Z) of the box that takes least"), inputs, why, 1)
    )


def _at_input(limiter: Result, gain: Result) -> Result:
    if isinstance(limiter, Missing):
        return limiter
    if isinstance(gain, Missing):
        return gain
    inputs = (("limiter voltage", limiter.value, "V"), ("gain", gain.value, "dB"))
    level = volts_to_dbu(limiter.value) - gain.value
    return Figure(level, "dBu", phrase("limiter voltage in dBu less the amplifier's gain"), inputs, gain.assumptions)
