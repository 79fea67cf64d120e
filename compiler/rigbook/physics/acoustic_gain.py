"""Acoustic gain: how much a sound system can give before it rings, and how much the room needs."""

from __future__ import annotations

import math

from rigbook.physics._numeric import require
from rigbook.physics.levels import distance_loss
from rigbook.physics.sums import incoherent_gain


def source_attenuation(distance_m: float, directivity_factor: float, absorption_area_m2: float) -> float:
    """Attenuation of a source in a room with distance, from its sound power.

    Args:
        distance_m: distance from the source in m, a float.
        directivity_factor: directivity factor Q of the source, a float.
        absorption_area_m2: absorption area S alpha in m², a float.
    Returns: attenuation in dB re 1 m²; differences of two distances are what counts.
    Source: Ballou (ed.), Handbook for Sound Engineers, ch. 34, (34-23): -10 lg(Q / (4 pi x^2) + 4 / (S alpha)).
    Valid: all above 0; a diffuse field.
    Errata: the book works in feet, which shifts every value by 20 lg(0.3048) = -10.32 dB.
    """
    require("distance", distance_m, "m", 0, above=True)
    require("directivity factor", directivity_factor, "", 0, above=True)
    require("absorption area", absorption_area_m2, "m²", 0, above=True)
    return -10 * math.log10(directivity_factor / (4 * math.pi * distance_m**2) + 4 / absorption_area_m2)


def needed_acoustic_gain(
    listener_m: float, equivalent_distance_m: float, critical_distance_m: float | None = None
) -> float:
    """Gain that brings the talker as near to the listener as wanted.

    Args:
        listener_m: D0, talker to the farthest listener in m, a float.
        equivalent_distance_m: EAD, distance at which the talker alone would be loud enough in m, a float.
        critical_distance_m: critical distance of the room in m; none for a free field.
    Returns: gain in dB.
    Source: Ballou (ed.), Handbook for Sound Engineers, ch. 34, (34-8); in a room (34-22).
    Valid: distances above 0 m.
    """
    return _loss(listener_m, critical_distance_m) - _loss(equivalent_distance_m, critical_distance_m)


def potential_acoustic_gain(
    listener_m: float,
    microphone_to_loudspeaker_m: float,
    talker_to_microphone_m: float,
    loudspeaker_to_listener_m: float,
    open_microphones: int = 1,
    stability_margin_db: float = 6.0,
    critical_distance_m: float | None = None,
) -> float:
    """Gain that a system of microphones and one loudspeaker can give before feedback, less a margin.

    Args:
        listener_m: D0, talker to the farthest listener in m, a float.
        microphone_to_loudspeaker_m: D1 in m, a float.
        talker_to_microphone_m: Ds in m, a float.
        loudspeaker_to_listener_m: D2 in m, a float.
        open_microphones: NOM, number of open microphones.
        stability_margin_db: FSM, feedback stability margin in dB; 6 dB is common practice.
        critical_distance_m: critical distance of the room in m; none for a free field.
    Returns: gain in dB; enough if at least `needed_acoustic_gain`.
    Source: Ballou (ed.), Handbook for Sound Engineers, ch. 34, (34-5); in a room (34-21).
    Valid: distances above 0 m, at least one microphone, margin from 0; microphone and loudspeaker without directivity.
    """
    require("stability margin", stability_margin_db, "dB", 0)
    won = _loss(listener_m, critical_distance_m) + _loss(microphone_to_loudspeaker_m, critical_distance_m)
    lost = _loss(talker_to_microphone_m, critical_distance_m) + _loss(loudspeaker_to_listener_m, critical_distance_m)
    return won - lost - open_microphone_loss(open_microphones) - stability_margin_db


def open_microphone_loss(open_microphones: int) -> float:
    """Gain lost to the number of open microphones.

    Args:
        open_microphones: NOM, number of open microphones of equal gain.
    Returns: loss in dB.
    Source: Ballou (ed.), Handbook for Sound Engineers, ch. 34: 10 lg NOM.
    Valid: from one on.
    """
    require("number of open microphones", open_microphones, "", 1)
    return incoherent_gain(open_microphones)


def equivalent_acoustic_distance(
    talker_to_microphone_m: float, talker_level_db: float, wanted_level_db: float
) -> float:
    """Distance at which the talker alone would have the level that the listener is to have.

    Args:
        talker_to_microphone_m: Ds, distance at which the talker's level is known in m, a float.
        talker_level_db: level of the talker at that distance in dB, a float.
        wanted_level_db: level wanted at the listener in dB, a float.
    Returns: EAD in m.
    Source: Ballou (ed.), Handbook for Sound Engineers, ch. 34, 34.2.2.9; inverse square law.
    Valid: distance above 0 m; free field.
    """
    require("distance", talker_to_microphone_m, "m", 0, above=True)
    require("level difference", talker_level_db - wanted_level_db, "dB", -200, 200)
    return float(talker_to_microphone_m * 10 ** ((talker_level_db - wanted_level_db) / 20))


def feedback_margin(source_level_db: float, return_level_db: float, open_microphones: int = 1) -> float:
    """Gain that may still be added before the loop of microphone and loudspeaker rings.

    Args:
        source_level_db: level of the wanted source at its microphone in dB, a float.
        return_level_db: level of what the loudspeakers return of it at the same microphone in dB, a float; the
            microphone's pattern is taken off here.
        open_microphones: number of open microphones of equal gain.
    Returns: margin in dB; 0 rings, 6 dB is common practice.
    Source: Nyquist's criterion, a loop rings when its gain reaches 1; the terms are those of Ballou ch. 34, (34-5).
    Valid: at least one microphone. The worst phase is taken, no frequency response is known: a plan's estimate only.
    """
    require("source level", source_level_db, "dB")
    require("returned level", return_level_db, "dB")
    return source_level_db - return_level_db - open_microphone_loss(open_microphones)


def _loss(distance_m: float, critical_distance_m: float | None) -> float:
    """Loss with distance; in a room that of direct and reverberant sound together, Ballou (34-21), (34-22)."""
    free = distance_loss(distance_m)
    if critical_distance_m is None:
        return free
    require("critical distance", critical_distance_m, "m", 0, above=True)
    return free - 10 * math.log10(critical_distance_m**2 + distance_m**2)
