"""Figures that no plan types: what a standard or the language itself lays down, each with its source."""

from __future__ import annotations

from math import log10
from typing import Final

from rigbook.compute.figure import Figure
from rigbook.compute.stock import SLACK_M
from rigbook.language.keys.room import ROOM
from rigbook.physics.loads import LINE_VOLTS
from rigbook.units.parse import parse
from rigbook.units.quantity import Quantity

PHANTOM: Final = Figure(48, "V", "IEC 61938:2018, phantom supply P48 (clause from memory)", (), (), 0)
LOUD: Final = Figure(0.125, "", "1/8 of the rated power: IEC 62368-1, annex E (clause from memory)", (), (), 3)
EDGE: Final = Figure(20 * log10(0.5), "dB", "half the pressure: definition of the nominal coverage", (), (), 0)
LINE: Final = Figure(LINE_VOLTS[-1], "V", "constant-voltage line: IEC 60268 (clause from memory)", (), (), 0)
LOAD: Final = Figure(8, "Ω", "load that a damping factor belongs to, as the language says", (), (), 0)
SPARE: Final = Figure(SLACK_M, "m", "a loop at the stand, a tail at the socket (common practice)", (), (), 0)


def limit_over() -> Figure:
    """Time over which a noise limit is averaged where the plan says none: the default of its key."""
    key = next(k for k in ROOM.keys if k.name == "noise-limit-over")
    got = parse(key.default, "time")
    assert isinstance(got, Quantity)
    return Figure(got.value / 60, "min", "default of the key `noise-limit-over`", (), (), 0)


def standards() -> tuple[tuple[str, Figure], ...]:
    """All of them by name."""
    return (
        ("phantom power", PHANTOM),
        ("loud music, of the rated output", LOUD),
        ("edge of the nominal coverage", EDGE),
        ("constant-voltage line", LINE),
        ("load of a damping factor", LOAD),
        ("cable to spare for both ends of a run reckoned from places", SPARE),
        ("averaging time of a noise limit", limit_over()),
    )
