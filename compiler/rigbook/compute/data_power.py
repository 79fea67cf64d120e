"""Mains, racks and radio of a rig as plain data."""

from __future__ import annotations

from typing import Any

from rigbook.compute.draws import heat_flow
from rigbook.compute.plain import plain, row, rows
from rigbook.compute.results import Results

FEED = ("drop", "drop_volts", "carries", "least_area")


def mains(got: Results) -> dict[str, Any]:
    """What everything draws."""
    circuit_keys = ("name", "supply", "phase", "volts", "rating", "units", "unknown", "idle", "eighth", "full")
    return {
        "units": rows(got.mains.draws, "unit", "circuit", "idle", "eighth", "full", "current", "heat"),
        "circuits": [
            {
                **row(c, *circuit_keys, "allowed", "left"),
                **row(c.feed, *FEED),
                "whole_drop": plain(got.mains.whole_drop(c)),
            }
            for c in got.mains.circuits
        ],
        "supplies": [
            {
                **row(s, "name", "phases", "rating", "unbalance", "neutral"),
                "by_phase": [{"phase": p, "current": plain(a)} for p, a in s.by_phase],
                "line_volts": plain(got.mains.line_volts(s)),
                "feed": row(s.feed, *FEED),
            }
            for s in got.mains.supplies
        ],
        "leads": [{"cable": x.cable.name, **row(x, "to", "needs", "carries")} for x in got.mains.leads],
        "order": list(got.mains.order),
    }


def racks(got: Results) -> list[dict[str, Any]]:
    """What racks hold, weigh and give off."""
    figures = ("used", "height", "weight", "per_lifter", "heat", "depth", "current", "air")
    return [
        {
            "rack": r.rack.name,
            "units": r.units,
            **row(r, *figures),
            "heat_flow": plain(heat_flow(r.heat.value)),
            "items": rows(r.items, "name", "side", "low", "high", "depth_m", "weight_kg", "heat_w"),
        }
        for r in got.racks
    ]


def stands(got: Results) -> list[dict[str, Any]]:
    """What stands on stands."""
    return [{"unit": s.unit.name, **row(s, "stand", "weight", "load")} for s in got.stood]


def radio(got: Results) -> dict[str, Any]:
    """Frequencies, what falls on them, and the nearest set that is clean."""
    own = got.radio
    return {
        "spacing": plain(own.spacing),
        "step": plain(own.step),
        "allowed_mhz": [[plain(a / 1e6), plain(b / 1e6)] for a, b in own.allowed],
        "channels": [
            {
                "unit": c.name,
                "frequency": plain(c.frequency),
                "guard": plain(own.guard(c)),
                "tunes_mhz": [[plain(a / 1e6), plain(b / 1e6)] for a, b in c.bands],
                "outside": own.outside(c),
                "nearest": plain(own.nearest(c)),
                "proposed": plain(f) if f else None,
                "moved": plain(own.moved(c, f)) if f else None,
            }
            for c, f in own.proposal
        ],
        "close": [{"a": p.a.name, "b": p.b.name, "apart": plain(p.apart)} for p in own.close],
        "looked_at": plain(own.looked_at),
        "products": [
            {"victim": p.victim.name, "sources": [c.name for c in p.sources], **row(p, "kind", "frequency", "offset")}
            for p in own.products
        ],
    }
