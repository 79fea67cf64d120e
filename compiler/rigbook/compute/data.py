"""All results of a rig as plain data, for `build --data`: one JSON document that others can compute on.

A figure is `{"value", "unit", "text", "formula", "inputs", "assumptions"}`; a figure that is not known is
`{"missing": reason}`. Numbers are not rounded; `text` is what the pages print.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from rigbook.compute.figure import Figure, Missing
from rigbook.compute.levels import AreaLevels, Band
from rigbook.compute.results import Results, results
from rigbook.graph.rig import Rig

FORMAT = 1
"""Version of the document; it goes up when a key changes its meaning or goes."""


def data(rig: Rig) -> dict[str, Any]:
    """Every result of a rig. Keys stand in the order of the pages; lists in the order of the plan."""
    got = results(rig)
    return {
        "format": FORMAT,
        "plan": rig.plan.title,
        "amplifiers": [_amplifier(c) for c in got.amp_channels],
        "cables": _rows(got.cable_runs, "amplifier", "box", "loop", "loss", "damping", "next_area"),
        "gain": [_chain(c) for c in got.chains],
        "inputs": [
            {"channel": p.channel.number, "name": p.channel.name, **_plain(p, "level", "wanted_gain", "headroom")}
            for p in got.preamps
        ],
        "crossovers": [_crossover(c) for c in got.crossovers],
        "delays": _rows(
            got.delays, "box", "helps", "main_distance", "own_distance", "wanted", "set_ms", "later", "heard"
        ),
        "subs": _rows(got.sub_alignments, "sub", "top", "sub_distance", "top_distance", "later"),
        "levels": _levels(got),
        "room": _rows(got.boxes_in_room, "box", "critical", "at_mix"),
        "feedback": [
            {"channel": x.channel.number, **_plain(x, "box", "distance", "off_axis", "potential", "needed", "margin")}
            for x in got.loops
        ],
        "exposure": [_exposure(e) for e in got.exposures],
        "mains": _mains(got),
        "racks": [
            {"rack": r.rack.name, **_plain(r, "used", "height", "weight", "per_lifter", "heat", "depth", "current")}
            for r in got.racks
        ],
        "radio": _radio(got),
    }


def plain(value: Any) -> Any:
    """A figure, or a simple value, as plain data."""
    if isinstance(value, Figure):
        return {
            "value": value.value,
            "unit": value.unit,
            "text": value.text,
            "formula": value.formula,
            "inputs": [{"name": n, "value": v, "unit": u} for n, v, u in value.inputs],
            "assumptions": list(value.assumptions),
        }
    if isinstance(value, Missing):
        return {"missing": value.why}
    return list(value) if isinstance(value, tuple) else value


def _plain(row: object, *names: str) -> dict[str, Any]:
    return {name: plain(getattr(row, name)) for name in names}


def _rows(rows: Iterable[object], *names: str) -> list[dict[str, Any]]:
    return [_plain(row, *names) for row in rows]


def _amplifier(channel: Any) -> dict[str, Any]:
    own = _plain(channel, "socket", "mode", "load", "minimum", "power", "volts", "gain", "limiter", "limiter_input")
    return {**own, "boxes": [{"box": d.box, "power": plain(d.power)} for d in channel.boxes]}


def _chain(chain: Any) -> dict[str, Any]:
    own = _plain(chain, "leg", "box", "socket", "amplifier", "first", "headroom", "attenuation")
    return {**own, "stages": _rows(chain.stages, "name", "clips_at")}


def _crossover(pair: Any) -> dict[str, Any]:
    advice = pair.advice
    return {
        "upper": pair.upper.box,
        "lower": pair.lower.box,
        **_plain(pair, "also", "crossing", "overlap", "lowest", "highest"),
        "advice": {"invert": advice.invert, "delay_s": advice.delay_s, "hole_db": advice.hole_db} if advice else None,
        "curve": {"columns": ["Hz", "lower dB", "upper dB", "sum dB"], "rows": [list(r) for r in pair.curve]},
    }


def _levels(got: Results) -> dict[str, Any]:
    if not got.levels.known:
        return {}
    return {
        "programme": plain(got.levels.programme),
        "most": plain(got.levels.most_at_mix),
        "trims": {name: round(value, 2) for name, value in got.levels.trims.items()},
        "places": [{"place": name, "level": plain(level)} for name, level in got.levels.spots],
        "areas": [_area(a) for a in got.levels.by_area],
        "aims": _rows(got.aims, "box", "to_first", "to_last", "best", "best_turn", "covered", "covered_exchanged"),
        "maps": [
            {
                "area": m.area,
                "step_m": round(m.step_m, 3),
                "x_m": list(m.x),
                "y_m": list(m.y),
                "dB(A)": list(m.a_levels),
            }
            for m in got.levels.level_map
        ],
    }


def _area(area: AreaLevels) -> dict[str, Any]:
    return {
        "area": area.area.name,
        **_plain(area, "uncovered", "first_row"),
        "bands": [_band(b) for b in area.bands],
    }


def _band(band: Band) -> dict[str, Any]:
    return {"band": band.hz or "A", **_plain(band, "lowest", "highest", "mean", "spread")}


def _exposure(exposure: Any) -> dict[str, Any]:
    own = _plain(exposure, "where", "level", "dose", "daily")
    return {**own, "reached": _rows(exposure.reached, "name", "source", "time")}


def _mains(got: Results) -> dict[str, Any]:
    return {
        "units": _rows(got.mains.draws, "unit", "circuit", "idle", "eighth", "full", "current", "heat"),
        "circuits": _rows(
            got.mains.circuits, "name", "supply", "phase", "rating", "idle", "eighth", "full", "allowed", "drop"
        ),
        "supplies": [
            {
                **_plain(s, "name", "phases", "rating", "unbalance", "neutral"),
                "by_phase": {p: plain(a) for p, a in s.by_phase},
            }
            for s in got.mains.supplies
        ],
        "order": list(got.mains.order),
    }


def _radio(got: Results) -> dict[str, Any]:
    radio = got.radio
    return {
        "channels": [
            {"unit": c.name, "frequency": plain(c.frequency), "proposed": plain(f) if f else None}
            for c, f in radio.proposal
        ],
        "close": [{"a": p.a.name, "b": p.b.name, "apart": plain(p.apart)} for p in radio.close],
        "products": [
            {
                "victim": p.victim.name,
                "sources": [c.name for c in p.sources],
                **_plain(p, "kind", "frequency", "offset"),
            }
            for p in radio.products
        ],
    }
