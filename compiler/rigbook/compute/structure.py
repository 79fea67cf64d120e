"""Gain structure: from the microphone through preamplifier, desk, socket and amplifier to the box.

Everything is referred to the meters of the desk: at which level on them each stage reaches its limit.
"""

from __future__ import annotations

from collections.abc import Iterator

from rigbook.compute.boxes import Boxes
from rigbook.compute.figure import Figure, Missing, Result, value_of, worked
from rigbook.compute.limits import Limits
from rigbook.compute.loads import AmpChannel, Driven
from rigbook.graph.arrivals import Arrival
from rigbook.graph.rig import Rig
from rigbook.physics.amplifiers import input_for_power
from rigbook.physics.audio_units import dbu_to_dbfs, volts_to_dbu
from rigbook.physics.levels import level_at_distance
from rigbook.physics.microphone_level import microphone_output
from rigbook.plan.model import Channel, Unit
from rigbook.records import frozen
from rigbook.text.phrase import phrase
from rigbook.units.quantity import Amount

SOURCE_LEVELS_DB = (
    ("speech", 80.0),
    ("talkback", 80.0),
    ("vocal", 105.0),
    ("instrument", 95.0),
    ("drums", 120.0),
    ("bass", 110.0),
    ("keys", 90.0),
)
"""Loud level at the microphone where it usually stands, dB re 20 µPa (common practice)."""
MICROPHONE_M = (
    ("speech", 0.3),
    ("talkback", 0.3),
    ("vocal", 0.05),
    ("instrument", 0.15),
    ("drums", 0.1),
    ("bass", 0.1),
)
"""Distance of a microphone from what it is for, m (common practice)."""
NEARER_M = 0.15


@frozen
class Stage:
    """One point of the signal, and the level on the desk's meters at which it clips (or its limiter acts)."""

    name: str
    clips_at: Figure
    """dBFS on the meters of the desk."""


@frozen
class Chain:
    """The way from a bus leg to one box."""

    leg: str
    box: str
    socket: str
    """The socket it leaves the desk by."""
    amplifier: str
    """The amplifier channel's output, or the powered box."""
    stages: tuple[Stage, ...]
    first: str
    """The stage that clips first; empty where nothing is known."""
    headroom: Result
    """Of the amplifier, over the level that the meters are worked at."""
    attenuation: Result
    """What to set the amplifier's attenuator to so that it clips with the desk."""
    gain_db: float = 0.0
    """Gain that the plan sets on the way, attenuators of amplifiers left out."""


@frozen
class Preamp:
    """An input channel with a microphone of known sensitivity."""

    channel: Channel
    level: Figure
    """Level at the socket for a loud source, dBu."""
    wanted_gain: Result
    """Preamplifier gain that brings it to the level the meters are worked at."""
    headroom: Result
    """At the gain that the plan gives."""


def microphone_distance(channel: Channel) -> tuple[float, tuple[str, ...]]:
    """How far a microphone stands from its source, in m; and what is assumed of it, nothing where the plan says it."""
    typed = channel.record.get("mic-distance")
    if typed is not None:
        return float(typed.value), ()
    near = _usual_m(channel)
    said = phrase("the microphone stands %(away)s from its source (common practice)", away=Amount(f"{near:g}", "m"))
    return near, (said,)


def _usual_m(channel: Channel) -> float:
    return dict(MICROPHONE_M).get(channel.kind_of_source, NEARER_M)


def full_scale(unit: Unit | None) -> float | None:
    """Analogue level of 0 dBFS of a desk, stage box or processor, dBu."""
    got = unit.kind.get("full-scale") if unit and unit.kind else None
    return float(got.value) if got is not None else None


def chains(rig: Rig, boxes: Boxes, channels: tuple[AmpChannel, ...], limits: Limits) -> tuple[Chain, ...]:
    """Every way from a bus leg to a box, in plan order."""
    driven = {d.box: (c, d) for c in channels for d in c.boxes}
    return tuple(
        chain
        for box in boxes.all
        for leg, arrival in boxes.ways.get(box.name, ())
        if arrival.way and (chain := _chain(rig, boxes, leg, arrival, driven.get(box.name), limits))
    )


def _chain(
    rig: Rig, boxes: Boxes, leg: str, arrival: Arrival, driven: tuple[AmpChannel, Driven] | None, limits: Limits
) -> Chain | None:
    socket = arrival.way[0][1]
    scale = full_scale(rig.unit(socket))
    if scale is None:
        scale = full_scale(rig.plan.units.get(str(rig.net.nodes[leg]["unit"])))
    if scale is None:
        return None
    amplifier, clip = _amplifier(boxes, arrival, driven)
    stages = tuple(_stages(rig, arrival, scale, driven, amplifier, clip))
    named = {s.name: s.clips_at.value for s in stages}
    first = min(named, key=lambda n: named[n]) if amplifier in named else ""
    gain = line_gain(arrival)
    nominal = limits["nominal-level"]
    if clip is None:
        none = Missing(phrase("the input level for full power of `%(unit)s` is not known", unit=amplifier))
        return Chain(leg, arrival.end, socket, amplifier, stages, first, none, none, gain)
    at = clip - gain - scale
    inputs = (("clips at", at, "dBFS"), ("meters worked at", nominal, "dBFS"))
    return Chain(
        leg,
        arrival.end,
        socket,
        amplifier,
        stages,
        first,
        Figure(at - nominal, "dB", phrase("level at which the amplifier clips, over the level of the meters"), inputs),
        Figure(
            min(at, 0.0),
            "dB",
            phrase("amplifier and desk clip together"),
            inputs,
            (phrase("besides what is set"),),
        ),
        gain,
    )


def line_gain(arrival: Arrival) -> float:
    """Gain that the plan sets on the way, in dB; attenuators of amplifiers belong to the amplifiers."""
    return sum(p.gain.value for name, p in arrival.stages if p.gain and (" " in name or "/" in name))


def _amplifier(boxes: Boxes, arrival: Arrival, driven: tuple[AmpChannel, Driven] | None) -> tuple[str, float | None]:
    """What makes the power, and the level at its input for full power, dBu."""
    if driven:
        channel = driven[0]
        gain, power, load = value_of(channel.gain), value_of(channel.power), value_of(channel.load)
        known = gain is not None and power and load
        return channel.socket, input_for_power(gain, power, load) if known else None  # type: ignore[arg-type]
    box = boxes.by_name.get(arrival.end)
    sensitivity = box.kind.get("input-sensitivity") if box else None
    return arrival.end, volts_to_dbu(sensitivity.value) if sensitivity is not None else None


def _stages(
    rig: Rig,
    arrival: Arrival,
    scale: float,
    driven: tuple[AmpChannel, Driven] | None,
    amplifier: str,
    clip: float | None,
) -> Iterator[Stage]:
    """Stages in order. Gain that the plan sets is taken to lie before each of them."""
    gain = line_gain(arrival)
    how = phrase("level on the desk's meters at which this stage reaches its limit")
    inputs = (("full scale", scale, "dBu"), ("gain on the way", gain, "dB"))
    yield Stage(arrival.way[0][1], Figure(0.0 - max(gain, 0.0), "dBFS", how, inputs))
    for edge in arrival.way[1:]:
        unit = rig.unit(edge[1])
        other = full_scale(unit) if unit and unit.family == "processor" else None
        if other is not None and rig.unit(edge[0]) is not unit:
            yield Stage(edge[1], Figure(other - gain - scale, "dBFS", how, (*inputs, ("its own", other, "dBu"))))
    thresholds = [p.limiter.value for _, p in arrival.stages if p.limiter]
    if thresholds:
        level = min(thresholds) - gain - scale
        yield Stage(phrase("limiter"), Figure(level, "dBFS", how, (*inputs, ("threshold", min(thresholds), "dBu"))))
    if clip is not None:
        yield Stage(amplifier, Figure(clip - gain - scale, "dBFS", how, (*inputs, ("full power at", clip, "dBu"))))
    if driven:
        channel, here = driven
        gain_v, ohm = value_of(channel.gain), here.impedance_ohm
        if gain_v is not None and ohm and here.continuous_w:
            level = input_for_power(gain_v, here.continuous_w, ohm) - gain - scale
            yield Stage(here.box, Figure(level, "dBFS", how, (*inputs, ("continuous power", here.continuous_w, "W"))))


def preamps(rig: Rig, limits: Limits) -> tuple[Preamp, ...]:
    """Every channel whose microphone states a sensitivity and whose source is named, in plan order."""
    usual = dict(SOURCE_LEVELS_DB)
    out = []
    for channel in rig.plan.channels:
        kind = channel.source_kind
        sensitivity = kind.get("mic-sensitivity") if kind else None
        loud = usual.get(channel.kind_of_source)
        scale = full_scale(rig.plan.units.get(channel.sockets[0].unit)) if channel.sockets else None
        if sensitivity is not None and loud is not None:
            out.append(_preamp(channel, sensitivity.value / 1000, loud, scale, limits["nominal-level"]))
    return tuple(out)


def _preamp(channel: Channel, volts_per_pa: float, loud_db: float, scale: float | None, nominal: float) -> Preamp:
    away, usual = microphone_distance(channel)[0], _usual_m(channel)
    at_mic_db = level_at_distance(loud_db, away, usual)
    dbu = microphone_output(volts_per_pa, at_mic_db)
    inputs = (("sensitivity", volts_per_pa * 1000, "mV/Pa"), ("sound level", at_mic_db, "dB"))
    assumed = (
        phrase(
            "a loud source of the kind `%(kind)s` gives %(level)s at %(away)s (common practice)",
            kind=channel.kind_of_source,
            level=Amount(f"{loud_db:g}", "dB"),
            away=Amount(f"{usual:g}", "m"),
        ),
    )
    level = Figure(dbu, "dBu", phrase("sensitivity and sound level"), inputs, assumed)
    if scale is None:
        none = Missing(phrase("the kind of the desk or stage box states no full-scale level"))
        return Preamp(channel, level, none, none)
    wanted = worked(
        lambda: Figure(
            nominal - dbu_to_dbfs(dbu, scale),
            "dB",
            phrase("nominal level less the level at the socket"),
            inputs,
            assumed,
            0,
        )
    )
    typed = channel.record.get("gain")
    if typed is None:
        return Preamp(channel, level, wanted, Missing(phrase("the plan gives no preamplifier gain")))
    room = -dbu_to_dbfs(dbu + typed.value, scale)
    return Preamp(channel, level, wanted, Figure(room, "dB", phrase("full scale less level and gain"), inputs, assumed))
