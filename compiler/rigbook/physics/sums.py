"""Sums and means of levels: without phase, and with it."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TYPE_CHECKING, TypeAlias, TypeGuard, overload

from rigbook.physics._numeric import require
from rigbook.physics.errors import OutOfRange

if TYPE_CHECKING:
    from rigbook.physics._numeric import Array, Values

    Levels: TypeAlias = Sequence[float] | Sequence[Array] | Sequence[Values] | Array


@overload
def energy_sum(levels_db: Sequence[float], axis: int = ...) -> float: ...
@overload
def energy_sum(levels_db: Array | Sequence[Array], axis: int = ...) -> Array: ...
@overload
def energy_sum(levels_db: Levels, axis: int = ...) -> Values: ...
def energy_sum(levels_db: Levels, axis: int = 0) -> Values:
    """Level of sounds that do not belong together, or of the bands of one sound.

    Args:
        levels_db: levels in dB: a sequence of floats, or an array, or a sequence of arrays (and floats) that
            broadcast.
        axis: of an array, the axis that is summed; of a sequence, 0 sums its members.
    Returns: level in dB: a float for floats, else an array without that axis. Silence is minus infinity.
    Source: definition, L = 10 lg sum 10^(Li/10); ISO 9613-2:1996, formula (5).
    Valid: at least one level, none plus infinity; no phase relation between the sounds.
    """
    if _are_floats(levels_db):
        loudest = _loudest(levels_db)
        if loudest == -math.inf:
            return loudest
        return loudest + 10 * math.log10(math.fsum(10 ** ((level - loudest) / 10) for level in levels_db))
    import numpy as np

    with np.errstate(divide="ignore"):
        summed: Array = 10 * np.log10(np.sum(10.0 ** (_stack(levels_db) / 10), axis=axis))
    return summed


@overload
def energy_mean(levels_db: Sequence[float], axis: int = ...) -> float: ...
@overload
def energy_mean(levels_db: Array | Sequence[Array], axis: int = ...) -> Array: ...
def energy_mean(levels_db: Levels, axis: int = 0) -> Values:
    """Mean level: the level whose energy is the mean of the energies.

    Args:
        levels_db: as for `energy_sum`.
        axis: of an array, the axis over which the mean is taken.
    Returns: level in dB, shaped as by `energy_sum`.
    Source: definition, L = 10 lg(1/n sum 10^(Li/10)); ISO 9612:2009, formula (3).
    Valid: as `energy_sum`.
    """
    if _are_floats(levels_db):
        return energy_sum(levels_db) - incoherent_gain(len(levels_db))
    stacked = _stack(levels_db)
    return energy_sum(stacked, axis) - incoherent_gain(stacked.shape[axis])


def incoherent_gain(count: int) -> float:
    """Gain of equal sounds without phase relation over one of them.

    Args:
        count: how many there are.
    Returns: gain in dB.
    Source: definition, 10 lg n.
    Valid: from one on.
    """
    require("number of sources", count, "", 1)
    return 10 * math.log10(count)


def coherent_gain(count: int) -> float:
    """Gain of equal sounds in phase over one of them.

    Args:
        count: how many there are.
    Returns: gain in dB.
    Source: definition, 20 lg n.
    Valid: from one on; all in phase, so at wavelengths long against their distances.
    """
    require("number of sources", count, "", 1)
    return 20 * math.log10(count)


@overload
def coherent_sum(levels_db: Sequence[float], phases_deg: Sequence[float], axis: int = ...) -> float: ...
@overload
def coherent_sum(levels_db: Array | Sequence[Array], phases_deg: Array | Sequence[Array], axis: int = ...) -> Array: ...
def coherent_sum(
    levels_db: Levels,
    phases_deg: Levels,
    axis: int = 0,
) -> Values:
    """Level of copies of one tone that meet with different phases.

    Args:
        levels_db: levels in dB, as for `energy_sum`.
        phases_deg: phases in degrees, of the same form; arrays broadcast against the levels.
        axis: of an array, the axis that is summed.
    Returns: level in dB: a float for floats, else an array without that axis. Copies that cancel give minus infinity,
        or a very low level that is left by rounding; read anything below -100 dB of the loudest as silence.
    Source: definition, 20 lg |sum 10^(Li/20) exp(j phi_i)|.
    Valid: at least one level, as many phases as levels; one frequency.
    """
    if _are_floats(levels_db) and _are_floats(phases_deg):
        return _coherent_floats(levels_db, phases_deg)
    import numpy as np

    phasors = 10.0 ** (_stack(levels_db) / 20) * np.exp(1j * np.deg2rad(_stack(phases_deg)))
    with np.errstate(divide="ignore"):
        summed: Array = 20 * np.log10(np.abs(np.sum(phasors, axis=axis)))
    return summed


def _coherent_floats(levels_db: Sequence[float], phases_deg: Sequence[float]) -> float:
    if len(phases_deg) != len(levels_db):
        raise OutOfRange("number of phases", len(phases_deg), "", (len(levels_db), len(levels_db)))
    loudest = _loudest(levels_db)
    if loudest == -math.inf:
        return loudest
    turns = [math.radians(phase) for phase in phases_deg]
    sizes = [10 ** ((level - loudest) / 20) for level in levels_db]
    real = math.fsum(size * math.cos(turn) for size, turn in zip(sizes, turns))
    imaginary = math.fsum(size * math.sin(turn) for size, turn in zip(sizes, turns))
    size = math.hypot(real, imaginary)
    return loudest + 20 * math.log10(size) if size else -math.inf


def _are_floats(values: Levels) -> TypeGuard[Sequence[float]]:
    return isinstance(values, Sequence) and all(isinstance(value, (int, float)) for value in values)


def _stack(values: Levels) -> Array:
    import numpy as np

    if isinstance(values, Sequence):
        return np.stack([np.asarray(value, dtype=float) for value in np.broadcast_arrays(*values)])
    return np.asarray(values, dtype=float)


def _loudest(levels_db: Sequence[float]) -> float:
    require("number of levels", len(levels_db), "", 1)
    loudest = max(levels_db)
    if math.isnan(sum(levels_db)) or loudest == math.inf:
        raise OutOfRange("level", loudest, "dB", (None, None))
    return loudest
