"""All results of a rig as plain data, for `build --data`: one JSON document that others can compute on.

A figure is `{"value", "unit", "text", "formula", "inputs", "assumptions"}`; a figure that is not known is
`{"missing": reason}`; `text` is what the pages print. Every key is described in `compiler/docs/data.md`.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from rigbook.compute import data_power
from rigbook.compute.counts import counts
from rigbook.compute.data_stock import labels, pull
from rigbook.compute.figure import Figure, Missing
from rigbook.compute.levels import AreaLevels, Band
from rigbook.compute.plain import plain, row, rows
from rigbook.compute.results import Results, results
from rigbook.compute.room import reverberation_s, schroeder, volume
from rigbook.compute.sources import BANDS
from rigbook.compute.standards import standards
from rigbook.compute.tuning import Leg, legs
from rigbook.graph.rig import Rig

if TYPE_CHECKING:
    from rigbook.compute.crossovers import Crossover
    from rigbook.compute.level_map import LevelMap
    from rigbook.compute.places import Spot
    from rigbook.plan.model import Unit

DELAY_KEYS = (
    *("box", "helps", "main_distance", "own_distance", "main_time", "own_time"),
    *("offset", "wanted", "set_ms", "later", "heard"),
)
FORMAT = 1
"""Version of the document; it goes up when a key changes its meaning or goes."""


def data(rig: Rig) -> dict[str, Any]:
    """Every result of a rig. Keys stand in the order of the pages; lists in the order of the plan."""
    got = results(rig)
    return {
        "format": FORMAT,
        "plan": rig.plan.title,
        "counts": dict(vars(counts(rig))),
        "limits": [{"limit": name, "said": got.limits.said(name)} for name in got.limits],
        "standards": [{"name": name, "figure": plain(figure)} for name, figure in standards()],
        "places": _places(got),
        "acoustics": _acoustics(got),
        "amplifiers": [_amplifier(c) for c in got.amp_channels],
        "cables": rows(got.cable_runs, "amplifier", "box", "loop", "loss", "damping", "next_area"),
        "gain": [_chain(c) for c in got.chains],
        "inputs": [
            {
                "desk": p.channel.desk,
                "channel": p.channel.number,
                "name": p.channel.name,
                **row(p, "level", "wanted_gain", "headroom"),
            }
            for p in got.preamps
        ],
        "crossovers": [_crossover(c) for c in got.crossovers],
        "delays": rows(got.delays, *DELAY_KEYS),
        "subs": rows(got.sub_alignments, "sub", "top", "sub_distance", "top_distance", "later"),
        "levels": _levels(got),
        "room": rows(got.boxes_in_room, "box", "critical", "at_mix"),
        "feedback": [
            {
                "desk": x.channel.desk,
                "channel": x.channel.number,
                **row(x, "box", "distance", "off_axis", "potential", "needed", "margin"),
            }
            for x in got.loops
        ],
        "exposure": [_exposure(e) for e in got.exposures],
        "tuning": [_leg(leg) for leg in legs(got)],
        "mains": data_power.mains(got),
        "racks": data_power.racks(got),
        "stands": data_power.stands(got),
        "radio": data_power.radio(got),
        "pull": pull(got.plan),
        "labels": labels(got.plan),
    }


def _amplifier(channel: Any) -> dict[str, Any]:
    own = row(channel, "socket", "mode", "load", "minimum", "power", "volts", "gain", "limiter", "limiter_input")
    return {**own, "boxes": [{"box": d.box, "power": plain(d.power)} for d in channel.boxes]}


def _chain(chain: Any) -> dict[str, Any]:
    own = row(chain, "leg", "box", "socket", "amplifier", "first", "headroom", "attenuation")
    return {**own, "stages": rows(chain.stages, "name", "clips_at")}


def _leg(leg: Leg) -> dict[str, Any]:
    return {
        "leg": leg.node,
        "desk": leg.bus.desk,
        "bus": leg.bus.name,
        **row(leg, "boxes", "microphone"),
        "bands_hz": plain(leg.bands),
        "lines": rows(leg.lines, "what", "where", "boxes", "planned", "worked", "against"),
    }


def _crossover(pair: Crossover) -> dict[str, Any]:
    advice, turned = pair.advice, pair.polarity_advice
    return {
        "upper": pair.upper.box,
        "lower": pair.lower.box,
        **row(pair, "also", "crossing", "overlap", "lowest", "highest"),
        "advice": {
            "invert": advice.invert,
            "delay": plain(Figure(advice.delay_s * 1000, "ms", ALIGNED, (), (), 2)),
            "hole": plain(Figure(advice.hole_db, "dB", ALIGNED)),
            "hole_now": plain(Figure(advice.hole_now_db, "dB", "deepest place of the sum as it is")),
        }
        if advice
        else None,
        "polarity_hole": plain(Figure(turned.hole_db, "dB", "deepest place of the sum with polarity alone"))
        if turned
        else None,
        "curve": [_point(each) for each in pair.curve],
        "thirds": [_point(each) for each in pair.thirds],
    }


ALIGNED = "polarity and delay searched for the shallowest hole within an octave of the crossing"


def _point(point: tuple[float, float, float, float]) -> dict[str, Any]:
    return dict(zip(("hz", "lower_db", "upper_db", "sum_db"), plain(point), strict=True))


def _acoustics(got: Results) -> dict[str, Any]:
    places = got.places
    size, time = volume(places), reverberation_s(places)
    unsaid = plain(Missing("the plan does not say"))
    return {
        "temperature": plain(Figure(places.temperature_c, "°C", "as typed; 20 °C where the plan is silent")),
        "humidity": plain(Figure(places.humidity_pct, "%", "as typed; 50 % where the plan is silent", (), (), 0)),
        "volume": plain(Figure(size, "m³", "as typed; else from the size", (), (), 0)) if size else unsaid,
        "reverberation": plain(Figure(time, "s", "as typed")) if time else unsaid,
        "modes_below": plain(schroeder(places)),
    }


def _places(got: Results) -> list[dict[str, Any]]:
    """Units with a place: x to house right, y out, z up, in metres; where speakers point, in degrees."""
    return [_placed(got, u, s) for u in got.plan.units.values() if not u.spare and (s := got.places.unit(u.name))]


def _placed(got: Results, unit: Unit, spot: Spot) -> dict[str, Any]:
    aim = got.places.aim(unit) if unit.is_speaker else None
    return {
        "unit": unit.name,
        "x_m": plain(spot.x),
        "y_m": plain(spot.y),
        "z_m": plain(spot.z),
        "turn_deg": plain(aim.turn) if aim else None,
        "tilt_deg": plain(aim.tilt) if aim else None,
    }


def _levels(got: Results) -> dict[str, Any]:
    if not got.levels.known:
        return {}
    return {
        "programme": plain(got.levels.programme),
        "most": plain(got.levels.most_at_mix),
        "trims": [{"box": name, "trim_db": plain(value)} for name, value in got.levels.trims.items()],
        "places": [{"place": name, "level": plain(level)} for name, level in got.levels.spots],
        "areas": [_area(a) for a in got.levels.by_area],
        "aims": rows(got.aims, "box", "to_first", "to_last", "best", "best_turn", "covered", "covered_exchanged"),
        "maps": [_map(m) for m in got.levels.maps],
    }


def _map(level_map: LevelMap) -> dict[str, Any]:
    x, y, level = zip(*level_map.places, strict=True)
    own = {"area": level_map.area.name, "step_m": plain(level_map.step_m)}
    by_band = zip(BANDS, level_map.levels[1:], strict=True)
    bands = [{"band": plain(hz), "level_db": plain(each[level_map.inside].tolist())} for hz, each in by_band]
    return {**own, "x_m": plain(x), "y_m": plain(y), "level_dba": plain(level), "bands": bands}


def _area(area: AreaLevels) -> dict[str, Any]:
    return {
        "area": area.area.name,
        **row(area, "uncovered", "first_row"),
        "bands": [_band(b) for b in area.bands],
    }


def _band(band: Band) -> dict[str, Any]:
    return {"band": band.hz or "A", **row(band, "lowest", "highest", "mean", "spread")}


def _exposure(exposure: Any) -> dict[str, Any]:
    own = row(exposure, "where", "level", "dose", "daily", "audience")
    return {**own, "reached": rows(exposure.reached, "name", "source", "time")}
