"""How an end must sound, in words, from what lies on its way and from what it is built for."""

from __future__ import annotations

from typing import Any, NamedTuple

from rigbook.graph import kinds as k
from rigbook.graph.arrivals import Arrival
from rigbook.graph.rig import Rig
from rigbook.text.phrase import joined, phrase
from rigbook.units.quantity import Amount


class Range(NamedTuple):
    """What a box can play, in Hz."""

    low: float
    high: float


USUAL = (("sub", Range(35.0, 150.0)), ("top", Range(60.0, 18_000.0)), ("wedge", Range(60.0, 18_000.0)))
"""Range by what a box is built for, where its kind does not say (common practice)."""


def range_of(rig: Rig, box: str) -> Range:
    """The frequency range of a speaker as its kind says, else as usual for what it is built for."""
    unit = rig.plan.units.get(box)
    said: Any = unit.kind.get("range") if unit and unit.kind else None
    if said is not None:
        low, high = said
        return Range(low.value, high.value)
    return dict(USUAL).get(built_for(rig, box), Range(60.0, 18_000.0))


def built_for(rig: Rig, box: str) -> str:
    """`top`, `sub`, `wedge` …; empty where its kind does not say."""
    unit = rig.plan.units.get(box)
    return str(unit.kind.get("box") or "") if unit and unit.kind else ""


def how(rig: Rig, arrival: Arrival) -> str:
    """How an end must sound, from the filters and delay on its way and from what it is built for."""
    kind = rig.net.nodes[arrival.end]["kind"]
    if kind == k.CHANNEL:
        return phrase("its meter moves")
    if kind != k.BOX:
        return phrase("level shows, clean")
    low, high = arrival.low_cut_hz, arrival.high_cut_hz
    if high and not low:
        words = phrase("low end only, below %(high)s", high=_hz(high))
    elif low and not high:
        words = phrase("full and clear above %(low)s, no deep bass", low=_hz(low))
    elif low:
        words = phrase("from %(low)s to %(high)s", low=f"{low:g}", high=_hz(high))
    else:
        words = phrase("low end only") if built_for(rig, arrival.end) == "sub" else phrase("full range")
    if not arrival.delay_s:
        return words
    return joined((words, phrase("%(time)s late", time=Amount(f"{arrival.delay_s * 1000:.1f}", "ms"))))


def _hz(value: float) -> Amount:
    return Amount(f"{value:g}", "Hz")
