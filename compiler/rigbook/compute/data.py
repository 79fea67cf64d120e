"""All results of a rig as plain data, for `build --data`: one JSON document that others can compute on.

A figure is `{"value", "unit", "text", "formula", "inputs", "assumptions"}`; a figure that is not known is
`{"missing": reason}`; `text` is what the pages print. Every key is described in `compiler/docs/data.md`.
"""

from __future__ import annotations

from dataclasses import asdict
from typing import TYPE_CHECKING, Any

from rigbook.compute import data_power
from rigbook.compute.counts import counts
from rigbook.compute.levels import AreaLevels, Band
from rigbook.compute.plain import plain, row, rows
from rigbook.compute.results import Results, results
from rigbook.graph.rig import Rig

if TYPE_CHECKING:
    from rigbook.compute.level_map import LevelMap

FORMAT = 1
"""Version of the document; it goes up when a key changes its meaning or goes."""


def data(rig: Rig) -> dict[str, Any]:
    """Every result of a rig. Keys stand in the order of the pages; lists in the order of the plan."""
    got = results(rig)
    return {
        "format": FORMAT,
        "plan": rig.plan.title,
        "counts": asdict(counts(rig)),
        "limits": [{"limit": name, "said": got.limits.said(name)} for name in got.limits],
        "places": _places(got),
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
        "delays": rows(
            got.delays, "box", "helps", "main_distance", "own_distance", "wanted", "set_ms", "later", "heard"
        ),
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
        "mains": data_power.mains(got),
        "racks": data_power.racks(got),
        "stands": data_power.stands(got),
        "radio": data_power.radio(got),
    }


def _amplifier(channel: Any) -> dict[str, Any]:
    own = row(channel, "socket", "mode", "load", "minimum", "power", "volts", "gain", "limiter", "limiter_input")
    return {**own, "boxes": [{"box": d.box, "power": plain(d.power)} for d in channel.boxes]}


def _chain(chain: Any) -> dict[str, Any]:
    own = row(chain, "leg", "box", "socket", "amplifier", "first", "headroom", "attenuation")
    return {**own, "stages": rows(chain.stages, "name", "clips_at")}


def _crossover(pair: Any) -> dict[str, Any]:
    advice = pair.advice
    return {
        "upper": pair.upper.box,
        "lower": pair.lower.box,
        **row(pair, "also", "crossing", "overlap", "lowest", "highest"),
        "advice": row(advice, "invert", "delay_s", "hole_db") if advice else None,
        "curve": plain(pair.curve),
    }


def _places(got: Results) -> list[dict[str, Any]]:
    """Units with a place: x to house right, y out, z up, in metres."""
    spots = ((u.name, got.places.unit(u.name)) for u in got.plan.units.values() if not u.spare)
    return [{"unit": name, "x_m": plain(s.x), "y_m": plain(s.y), "z_m": plain(s.z)} for name, s in spots if s]


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
    return {**own, "x_m": plain(x), "y_m": plain(y), "level_dba": plain(level)}


def _area(area: AreaLevels) -> dict[str, Any]:
    return {
        "area": area.area.name,
        **row(area, "uncovered", "first_row"),
        "bands": [_band(b) for b in area.bands],
    }


def _band(band: Band) -> dict[str, Any]:
    return {"band": band.hz or "A", **row(band, "lowest", "highest", "mean", "spread")}


def _exposure(exposure: Any) -> dict[str, Any]:
    own = row(exposure, "where", "level", "dose", "daily")
    return {**own, "reached": rows(exposure.reached, "name", "source", "time")}
