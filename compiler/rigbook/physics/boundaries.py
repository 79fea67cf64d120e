"""Boundaries: what a floor, a wall or a corner close by adds to a source."""

from __future__ import annotations

import math

from rigbook.physics._numeric import require


def boundary_gain(boundaries: int) -> float:
    """Gain of rigid boundaries that meet close to a source of constant volume velocity.

    Args:
        boundaries: number of boundaries: 0 free, 1 on the floor, 2 floor and wall, 3 corner.
    Returns: gain in dB over the free field.
    Source: image sources in phase, 20 lg 2^n.
    Valid: 0 to 3; a source much nearer to each boundary than a quarter wavelength, thus a sub on the floor.
    Errata: at constant sound power it is half of that (3 dB each); a loudspeaker at low frequencies keeps its
        volume velocity.
    """
    require("number of boundaries", boundaries, "", 0, 3)
    return 20 * math.log10(2) * boundaries


def boundary_directivity_factor(boundaries: int) -> float:
    """Directivity factor of a source at rigid boundaries (constant sound power).

    Args:
        boundaries: number of boundaries: 0 free, 1 on the floor, 2 floor and wall, 3 corner.
    Returns: directivity factor Q: 1, 2, 4, 8.
    Source: Bies, Hansen & Howard, Engineering Noise Control, 5th ed., 6.4.
    Valid: 0 to 3; as `boundary_gain`.
    """
    require("number of boundaries", boundaries, "", 0, 3)
    return 2.0**boundaries
