"""What each unit takes from the mains, and what of it stays as heat."""

from __future__ import annotations

from rigbook.compute.figure import Figure, Missing, Result, worked
from rigbook.physics.amplifier_mains import EIGHTH, btu_per_hour, mains_power
from rigbook.physics.mains import apparent_power, single_phase_current
from rigbook.plan.model import Kind, Unit
from rigbook.records import frozen
from rigbook.text.phrase import phrase
from rigbook.units.quantity import Amount

PF = phrase("power factor 1, where a kind states none")
EFFICIENCY = 0.55
"""Output over what an amplifier draws beyond idle, where its kind says nothing: between those of class AB and class D
at 1/8 of rated output, on the side that draws more (common practice)."""


@frozen
class Draw:
    """What one unit takes."""

    unit: str
    circuit: str
    """Circuit that feeds it; empty where the plan does not say."""
    idle: Result
    eighth: Result
    """With loud music, 1/8 of rated output; idle for what has no amplifier."""
    full: Result
    current: Result
    """At 1/8 power."""
    heat: Result
    """At 1/8 power, what stays in the rack."""
    factor: float
    """Power factor."""
    assumptions: tuple[str, ...]
    """Of its currents."""

    def apparent(self, which: str) -> float | None:
        """Apparent power in VA, of `idle`, `eighth` or `full`; None where it is not known."""
        got = getattr(self, which)
        return apparent_power(got.value, self.factor) if isinstance(got, Figure) else None


def draw_of(unit: Unit, circuit: str, volts: float) -> Draw:
    """What a unit takes on a circuit of so many volts."""
    idle, eighth, full = (_rated(unit, key) for key in ("draw-idle", "draw-eighth", "draw-full"))
    eighth = _or_reckoned(unit, idle, eighth, EIGHTH)
    full = _or_reckoned(unit, eighth, full, 1.0)
    typed = unit.kind.get("power-factor") if unit.kind else None
    factor = float(typed) if typed is not None else 1.0
    said = () if typed is not None else (PF,)
    current = _current(eighth, volts, factor, said)
    return Draw(unit.name, circuit, idle, eighth, full, current, _heat(unit, eighth), factor, said)


def _or_reckoned(unit: Unit, less: Result, got: Result, share: float) -> Result:
    """A draw as its kind declares it; of an amplifier that does not, reckoned; else the draw next to it."""
    if isinstance(got, Figure):
        return got
    outputs, watts = _outputs(unit)
    idle = unit.kind.get("draw-idle") if unit.kind else None
    if not outputs or idle is None or unit.kind is None:
        return less
    typed = unit.kind.get("efficiency")
    efficiency = float(typed.value) if typed is not None else EFFICIENCY
    each = Amount(f"{100 * efficiency:g}", "%")
    usual = phrase("an amplifier that states no efficiency gives %(share)s of what it draws beyond idle", share=each)
    inputs = (
        (phrase("outputs"), outputs, ""),
        (phrase("rated power"), watts, "W"),
        (phrase("efficiency"), 100 * efficiency, "%"),
        (phrase("idle"), idle.value, "W"),
    )
    how = phrase("idle + n·P·share/η")
    assumed = () if typed is not None else (usual,)
    return worked(
        lambda: Figure(mains_power(outputs, watts, efficiency, idle.value, share), "W", how, inputs, assumed, 0)
    )


def _outputs(unit: Unit) -> tuple[int, float]:
    """How many outputs an amplifier has, and the rated power of each into its lowest load; 0 of what is none."""
    kind = unit.kind
    points = kind.get("power", ()) if kind else ()
    if kind is None or unit.family != "amplifier" or not points:
        return 0, 0.0
    outputs = sum(p.level in ("speaker", "100 V line") and p.direction == "out" for p in kind.ports.values())
    return outputs, float(points[0][1].value)


def needs_mains(unit: Unit) -> bool:
    """True for a unit that draws mains power itself."""
    if unit.kind is None or unit.family == "power distribution":
        return False
    inlet = any(p.level == "mains" and p.direction == "in" for p in unit.kind.ports.values())
    return inlet or unit.kind.get("draw-idle") is not None


def _rated(unit: Unit, key: str) -> Result:
    got = unit.kind.get(key) if unit.kind else None
    if got is None:
        return Missing(phrase("the kind of `%(unit)s` states no `%(key)s`", unit=unit.name, key=key))
    inputs = ((phrase("kind"), _kind_name(unit.kind), ""),)
    return Figure(float(got.value), "W", phrase("as its kind declares"), inputs, (), 0)


def _kind_name(kind: Kind | None) -> str:
    return kind.name if kind else ""


def _current(power: Result, volts: float, factor: float, said: tuple[str, ...]) -> Result:
    if isinstance(power, Missing):
        return power
    inputs = (
        (phrase("power"), power.value, "W"),
        (phrase("voltage"), volts, "V"),
        (phrase("power factor"), factor, ""),
    )
    amps = single_phase_current(power.value, volts, factor)
    return Figure(amps, "A", "P/(U·λ)", inputs, (*power.assumptions, *said), 2)


def _heat(unit: Unit, power: Result) -> Result:
    """What a unit turns into heat where it stands: all it draws, less what its loudspeakers take."""
    if isinstance(power, Missing):
        return power
    outputs, each = _outputs(unit)
    out = outputs * each * EIGHTH
    watts = max(power.value - out, 0.0)
    inputs = ((phrase("draw"), power.value, "W"), (phrase("to loudspeakers"), out, "W"))
    assumed = (phrase("every channel at 1/8 of its power into its lowest load"),) if out else ()
    how = phrase("draw less what leaves for the loudspeakers")
    return Figure(watts, "W", how, inputs, (*power.assumptions, *assumed), 0)


def heat_flow(watts: float) -> Figure:
    """Heat as air conditioning is rated in some countries."""
    return Figure(btu_per_hour(watts), "BTU/h", "W / 0.29307", ((phrase("heat"), watts, "W"),), (), 0)
