"""The room: critical distance, direct against reverberant sound, and the gain that microphones leave."""

from __future__ import annotations

import math

from rigbook.compute.boxes import Box, Boxes
from rigbook.compute.figure import Figure, Missing, Result, worked
from rigbook.compute.levels import Levels
from rigbook.compute.limits import Limits
from rigbook.compute.places import Places, Spot
from rigbook.compute.sources import Source
from rigbook.compute.structure import microphone_distance
from rigbook.graph import kinds as k
from rigbook.graph.rig import Rig
from rigbook.physics.acoustic_gain import needed_acoustic_gain, potential_acoustic_gain
from rigbook.physics.aim import distance_between, off_axis_angle
from rigbook.physics.directivity import directivity_factor_rectangular
from rigbook.physics.off_axis import ALL_ROUND_DEG, off_axis_loss
from rigbook.physics.rooms import critical_distance_from_time, direct_to_reverberant, schroeder_frequency
from rigbook.plan.model import Channel
from rigbook.records import frozen
from rigbook.text.phrase import phrase


@frozen
class BoxInRoom:
    """A box against the reverberation of the room."""

    box: str
    critical: Result
    at_mix: Result
    """Direct over reverberant level at the mix position."""


@frozen
class Loop:
    """A microphone and a main box that it feeds: the gain before feedback against the gain wanted."""

    channel: Channel
    microphone: Spot
    box: str
    distance: Figure
    off_axis: Figure
    """Angle of the microphone from the axis of the box."""
    potential: Result
    needed: Result
    margin: Result
    """Potential less needed gain, the stability margin already taken off."""


def boxes_in_room(levels: Levels, places: Places) -> tuple[BoxInRoom, ...]:
    """Every placed box that is no sub, where volume and reverberation time of the room are known."""
    if volume(places) is None or reverberation_s(places) is None:
        return ()
    return tuple(_box(s, levels, places) for s in levels.sources if not s.box.is_sub)


def volume(places: Places) -> float | None:
    """Volume of the room in m³: as typed, else from its size."""
    typed, size = (places.room.get(phrase("volume")), places.room.get("size")) if places.room else (None, None)
    if typed is not None:
        return float(typed.value)
    return float(size.width * size.depth * size.height) if size else None


def reverberation_s(places: Places) -> float | None:
    """Reverberation time of the room in s, as typed."""
    typed = places.room.get("reverberation-time") if places.room else None
    return float(typed.value) if typed is not None else None


def schroeder(places: Places) -> Result:
    """Frequency below which the room's own modes stand out."""
    size, time = volume(places), reverberation_s(places)
    if size is None or time is None:
        return Missing(phrase("the plan gives no volume or no reverberation time"))
    inputs = ((phrase("volume"), size, "m³"), (phrase("reverberation time"), time, "s"))
    return worked(lambda: Figure(schroeder_frequency(time, size), "Hz", "2000 √(T/V)", inputs, (), 0))


def _box(source: Source, levels: Levels, places: Places) -> BoxInRoom:
    critical = _critical(source, places)
    if isinstance(critical, Missing):
        return BoxInRoom(source.box.name, critical, critical)
    metres = distance_between(source.spot, levels.mix[0])
    inputs = (("distance", metres, "m"), ("critical distance", critical.value, "m"))
    ratio = worked(
        lambda: Figure(
            direct_to_reverberant(metres, critical.value), "dB", phrase("20 lg(rc/r)"), inputs, (phrase("on its axis"),)
        )
    )
    return BoxInRoom(source.box.name, critical, ratio)


def _critical(source: Source, places: Places) -> Result:
    size, time = volume(places), reverberation_s(places)
    if size is None or time is None:
        return Missing(phrase("the plan gives no volume or no reverberation time"))
    # between 180 degrees and all round there is no beam to reckon with: half of all round is taken
    h, v = (min(c, 180.0) if c < ALL_ROUND_DEG else c for c in (source.coverage.horizontal, source.coverage.vertical))
    inputs = (
        (phrase("volume"), size, "m³"),
        (phrase("reverberation time"), time, "s"),
        ("coverage", source.coverage.text, ""),
    )
    assumed = (
        phrase("directivity from the nominal coverage"),
        phrase("a diffuse field, with the absorption area of Sabine"),
    )
    return worked(
        lambda: Figure(
            critical_distance_from_time(directivity_factor_rectangular(h, v), size, time),
            "m",
            phrase("0.057 √(Q·V/T)"),
            inputs,
            assumed,
        )
    )


def loops(rig: Rig, boxes: Boxes, levels: Levels, places: Places, limits: Limits) -> tuple[Loop, ...]:
    """Every placed microphone with every placed main, fill or delay box that its channel reaches."""
    if not levels.known:
        return ()
    at = {s.box.name: s for s in levels.sources if not s.box.is_sub}
    heard = [(c, spot, reached(rig, c) & set(at)) for c, spot in microphones(rig, places)]
    voices = {
        name: sum(name in reached and c.kind_of_source in ("vocal", "speech") for c, _, reached in heard) for name in at
    }
    return tuple(
        _loop(channel, spot, at[name], max(voices[name], 1), levels, places, limits)
        for channel, spot, reached in heard
        for name in at
        if name in reached
    )


def microphones(rig: Rig, places: Places) -> list[tuple[Channel, Spot]]:
    """Channels that a placed microphone feeds, not muted by plan."""
    out = []
    for channel in rig.plan.channels:
        spot = places.channel(channel)
        is_mic = channel.source_kind is not None and channel.source_kind.family in ("microphone", "radio")
        if spot and is_mic and not channel.record.get("muted"):
            out.append((channel, spot))
    return out


def reached(rig: Rig, channel: Channel) -> set[str]:
    """Speakers that a channel reaches."""
    found: set[str] = set()
    for leg in channel.legs:
        found |= set(rig.boxes_of(k.channel_node(channel.desk, channel.number, leg)))
    return found


def _loop(
    channel: Channel, mic: Spot, source: Source, open_mics: int, levels: Levels, places: Places, limits: Limits
) -> Loop:
    listener = max((p for a in levels.by_area for p in a.points), key=lambda p: distance_between(mic, p))
    near, usual = microphone_distance(channel)
    direct = source.distance(mic)
    h, v = source.angles(mic)
    beside = off_axis_loss(h, v, source.coverage.horizontal, source.coverage.vertical)
    seems = float(direct) * 10 ** (float(beside) / 20)
    critical = _critical(source, places)
    room_m = critical.value if isinstance(critical, Figure) else None
    far, box_far = distance_between(mic, listener), float(source.distance(listener))
    inputs = (
        ("talker to microphone", near, "m"),
        ("box to microphone", float(direct), "m"),
        ("loss beside the axis", float(beside), "dB"),
        ("box to farthest listener", box_far, "m"),
        ("open microphones", open_mics, ""),
        ("stability margin", limits["stability-margin"], "dB"),
    )
    assumed = (
        *usual,
        phrase("voices that reach the box are open at equal gain"),
        phrase("the microphone's own pattern left out"),
    )
    potential = worked(
        lambda: Figure(
            potential_acoustic_gain(far, seems, near, box_far, open_mics, limits["stability-margin"], room_m),
            "dB", phrase("potential acoustic gain, Ballou (34-5), (34-21)"), inputs, assumed,
        )
    )  # fmt: skip
    ead = limits["equivalent-distance"]
    wanted = (("talker to farthest listener", far, "m"), ("distance it should seem", ead, "m"))
    needed = worked(
        lambda: Figure(
            needed_acoustic_gain(far, ead, room_m), "dB", phrase("needed acoustic gain, Ballou (34-8)"), wanted
        )
    )
    margin = _difference(potential, needed, assumed)
    axis = off_axis_angle(source.spot, _ahead(source), mic)
    how = phrase("distance between two places of the plan")
    return Loop(
        channel, mic, source.box.name, Figure(float(direct), "m", how),
        Figure(axis, "°", phrase("angle from the axis of the box"), (), (), 0), potential, needed, margin,
    )  # fmt: skip


def _difference(potential: Result, needed: Result, assumed: tuple[str, ...]) -> Result:
    if isinstance(potential, Missing):
        return potential
    if isinstance(needed, Missing):
        return needed
    inputs = (("potential", potential.value, "dB"), ("needed", needed.value, "dB"))
    return Figure(potential.value - needed.value, "dB", phrase("potential less needed gain"), inputs, assumed)


def _ahead(source: Source) -> Spot:
    """A point one metre ahead of a box."""
    turn, tilt = math.radians(source.aim.turn), math.radians(source.aim.tilt)
    level = math.cos(tilt)
    x, y, z = source.spot
    return Spot(x + level * math.sin(turn), y + level * math.cos(turn), z + math.sin(tilt))


def angle_to(box: Box, places: Places, listener: Spot) -> float | None:
    """Angle of a listener from the axis of a placed box, degrees."""
    spot, aim = places.unit(box.name), places.aim(box.unit)
    if spot is None or spot == listener:
        return None
    turn, tilt = math.radians(aim.turn), math.radians(aim.tilt)
    level = math.cos(tilt)
    ahead = Spot(spot.x + level * math.sin(turn), spot.y + level * math.cos(turn), spot.z + math.sin(tilt))
    return off_axis_angle(spot, ahead, listener)
