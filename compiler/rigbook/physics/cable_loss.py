"""What a loudspeaker cable costs: level, power, damping, and how thick or how long it may be."""

from __future__ import annotations

import math

from rigbook.physics._numeric import require
from rigbook.physics.conductors import CLASS_5_OHM_PER_KM, copper_factor, flexible_resistance, loop_resistance


def level_loss(loop_ohm: float, load_ohm: float) -> float:
    """Drop in level at the load, against the same amplifier without cable.

    Args:
        loop_ohm: resistance of the cable there and back, Ω.
        load_ohm: nominal impedance of the load, Ω.
    Returns: dB, zero or more.
    Source: circuit theory (voltage divider), 20·lg(1 + Rc/Z).
    Valid: a resistive load; loop zero or more, load above zero.
    """
    require("loop resistance", loop_ohm, "Ω", 0)
    require("load impedance", load_ohm, "Ω", 0, above=True)
    return 20 * math.log10(1 + loop_ohm / load_ohm)


def power_lost(loop_ohm: float, load_ohm: float) -> float:
    """Share of the amplifier's output power that stays in the cable.

    Args:
        loop_ohm: resistance of the cable there and back, Ω.
        load_ohm: nominal impedance of the load, Ω.
    Returns: share, 0 to 1.
    Source: circuit theory, Rc/(Rc + Z).
    Valid: as `level_loss`.
    """
    require("loop resistance", loop_ohm, "Ω", 0)
    require("load impedance", load_ohm, "Ω", 0, above=True)
    return loop_ohm / (loop_ohm + load_ohm)


def damping_factor(amplifier_factor: float, reference_ohm: float, loop_ohm: float, load_ohm: float) -> float:
    """Damping factor at the loudspeaker's terminals, cable included.

    Args:
        amplifier_factor: damping factor as the amplifier's data sheet gives it.
        reference_ohm: load to which that figure belongs, Ω.
        loop_ohm: resistance of the cable there and back, Ω.
        load_ohm: nominal impedance of the loudspeaker, Ω.
    Returns: ratio.
    Source: IEC 60268-3 (rated load over output source impedance; clause from memory); circuit theory.
    Valid: loop zero or more, all else above zero.
    """
    require("damping factor of the amplifier", amplifier_factor, "", 0, above=True)
    require("reference load", reference_ohm, "Ω", 0, above=True)
    require("loop resistance", loop_ohm, "Ω", 0)
    require("load impedance", load_ohm, "Ω", 0, above=True)
    return load_ohm / (reference_ohm / amplifier_factor + loop_ohm)


def longest_cable(loss_db: float, ohm_per_m: float, load_ohm: float, temperature_c: float = 20.0) -> float:
    """Longest cable that keeps the drop in level within a limit.

    Args:
        loss_db: drop in level allowed, dB.
        ohm_per_m: resistance of one core at 20 °C, Ω/m.
        load_ohm: nominal impedance of the load, Ω.
        temperature_c: temperature of the copper, °C.
    Returns: m.
    Source: `level_loss` solved for the length, L = Z·(10^(dB/20) - 1)/(2·R').
    Valid: loss zero or more, resistance and load above zero, temperature as in `copper_factor`.
    """
    require("loss", loss_db, "dB", 0)
    require("conductor resistance", ohm_per_m, "Ω/m", 0, above=True)
    require("load impedance", load_ohm, "Ω", 0, above=True)
    return load_ohm * (10 ** (loss_db / 20) - 1) / (2 * ohm_per_m * copper_factor(temperature_c))


def smallest_area(loss_db: float, length_m: float, load_ohm: float, temperature_c: float = 20.0) -> float | None:
    """Smallest standard area that keeps the drop in level within a limit.

    Args:
        loss_db: drop in level allowed, dB.
        length_m: length of the cable, m.
        load_ohm: nominal impedance of the load, Ω.
        temperature_c: temperature of the copper, °C.
    Returns: mm², or `None` where even the thickest area of the table loses more.
    Source: `level_loss` over the areas of IEC 60228:2004, table 3 (class 5).
    Valid: loss and length zero or more, load above zero, temperature as in `copper_factor`.
    """
    require("loss", loss_db, "dB", 0)
    for area_mm2 in CLASS_5_OHM_PER_KM:
        loop_ohm = loop_resistance(flexible_resistance(area_mm2), length_m, temperature_c)
        if level_loss(loop_ohm, load_ohm) <= loss_db:
            return area_mm2
    return None
