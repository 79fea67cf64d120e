"""How much a box loses beside its axis: the model used for coverage and level maps.

The model. A box is described by its two coverage angles H and V, each from one -6 dB direction to the other. With the
angles h and v of the listener in the box's own frame (`aim.listener_angles`: h and v are the components of the angle
from the axis), the loss is

    6.02 dB * ((h / (H/2))^2 + (v / (V/2))^2), at most `most_db`.

On the edge of an ellipse with the half axes H/2 and V/2 it is 6.02 dB, thus half the pressure, by definition. Towards
the axis it follows a Gaussian beam: at half the angle 1.5 dB, where a rigid piston has 1.35 dB.

Its limits. Real boxes have lobes, a crossover and a front that is not symmetrical; none of them is here. Beyond the
-6 dB edge a real box stops falling sooner or later, hence `most_db`: 20 dB by default (common practice for the rear
of a box at middle and high frequencies). Low frequencies go all round: give the angles of each octave band, with 360
degrees for a plane without a -6 dB direction, and 360 in both planes for a box that radiates evenly.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TYPE_CHECKING, Final, overload

from rigbook.physics._numeric import at_most, require
from rigbook.physics.errors import OutOfRange

if TYPE_CHECKING:
    from rigbook.physics._numeric import Array, Values

HALF_PRESSURE_DB: Final = 20 * math.log10(2)
ALL_ROUND_DEG: Final = 360.0


@overload
def off_axis_loss(  # type: ignore[overload-overlap]
    horizontal_deg: float, vertical_deg: float, coverage_h_deg: float, coverage_v_deg: float, most_db: float = ...
) -> float: ...
@overload
def off_axis_loss(
    horizontal_deg: Values, vertical_deg: Values, coverage_h_deg: float, coverage_v_deg: float, most_db: float = ...
) -> Array: ...
def off_axis_loss(
    horizontal_deg: Values,
    vertical_deg: Values,
    coverage_h_deg: float,
    coverage_v_deg: float,
    most_db: float = 20.0,
) -> Values:
    """Loss beside the axis of a box, by the elliptical model of this file.

    Args:
        horizontal_deg: horizontal angle of the listener in the box's frame in degrees, float or array; both broadcast.
        vertical_deg: vertical angle of the listener in the box's frame in degrees.
        coverage_h_deg: horizontal coverage angle in degrees; 360 for a plane that is even all round.
        coverage_v_deg: vertical coverage angle in degrees; the same.
        most_db: loss that is never exceeded in dB.
    Returns: loss in dB, 0 on the axis, 6.02 at half a coverage angle.
    Source: definition of the coverage angle, -6 dB (IEC 60268-5:2003, 23.4, number from memory); elliptical Gaussian
        between and beyond (ours, see the head of this file).
    Valid: angles -180 to 180 degrees, coverage above 0 and up to 360 degrees, `most_db` from 0.
    """
    require("horizontal angle", horizontal_deg, "°", -180, 180)
    require("vertical angle", vertical_deg, "°", -180, 180)
    require("greatest loss", most_db, "dB", 0)
    h = horizontal_deg * _steepness("horizontal coverage", coverage_h_deg)
    v = vertical_deg * _steepness("vertical coverage", coverage_v_deg)
    return at_most(HALF_PRESSURE_DB * (h * h + v * v), most_db)


def off_axis_loss_by_band(
    horizontal_deg: float,
    vertical_deg: float,
    coverages_deg: Sequence[tuple[float, float]],
    most_db: Sequence[float] | float = 20.0,
) -> tuple[float, ...]:
    """Loss beside the axis of a box in several bands, each with its own coverage angles.

    Args:
        horizontal_deg: horizontal angle of the listener in the box's frame in degrees, a float.
        vertical_deg: vertical angle of the listener in the box's frame in degrees, a float.
        coverages_deg: horizontal and vertical coverage angle in degrees for each band.
        most_db: loss that is never exceeded in dB, one for all or one for each band.
    Returns: loss in dB for each band. For a level map, call `off_axis_loss` with arrays once for each band.
    Source: as `off_axis_loss`.
    Valid: as `off_axis_loss`; as many greatest losses as bands, or one.
    """
    limits = [most_db] * len(coverages_deg) if isinstance(most_db, (int, float)) else list(most_db)
    if len(limits) != len(coverages_deg):
        raise OutOfRange("number of greatest losses", len(limits), "", (len(coverages_deg), len(coverages_deg)))
    return tuple(
        off_axis_loss(horizontal_deg, vertical_deg, h, v, limit) for (h, v), limit in zip(coverages_deg, limits)
    )


def _steepness(name: str, coverage_deg: float) -> float:
    """One over the half angle; 0 where the plane is even all round."""
    require(name, coverage_deg, "°", 0, ALL_ROUND_DEG, above=True)
    return 0.0 if coverage_deg == ALL_ROUND_DEG else 2 / coverage_deg
