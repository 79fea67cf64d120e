"""Boxes that must add to one sound: those of one leg, the two sides, tops and subs, delays and what they help."""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Sequence
from math import dist

from rigbook.graph.arrivals import Arrival
from rigbook.graph.rig import Rig
from rigbook.text.phrase import phrase
from rigbook.units.quantity import Amount
from rigbook.walk.sounding import Range, built_for, range_of
from rigbook.walk.standing import located
from rigbook.walk.step import Pair

SIDES = phrase("one sound from the middle between them, bass included; not hollow, not from everywhere")
LEG = phrase("louder and with more bass than either alone; not hollow")
CROSSOVER = phrase("a kick drum stays whole where the two meet, around {hz} Hz; not thin")
HELPED = phrase("the sound comes from {b}; {a} only makes it clearer; no double hits")
LOW_HZ = 63.0
"""Where two subs are judged together: the middle of what they play."""
MEET = 1.5
"""Two bands meet where the gap between their ends is no wider than this factor (a good half octave)."""


def within(rig: Rig, boxes: Sequence[str]) -> tuple[Pair, ...]:
    """Neighbours among the boxes of one leg."""
    line = sorted((b for b in boxes if b in rig.boxes), key=lambda b: (_point(rig, b) or (0.0, 0.0), boxes.index(b)))
    return tuple(
        Pair(a, b, LEG, _low(rig, a, b))
        for a, b in itertools.pairwise(line)
        if band_overlap(range_of(rig, a), range_of(rig, b))
    )


def sides(rig: Rig, left: Sequence[str], right: Sequence[str]) -> tuple[Pair, ...]:
    """Boxes of the left leg with those of the right, in step."""
    return tuple(Pair(a, b, SIDES, _low(rig, a, b)) for a, b in zip(left, right) if a != b)


def crossovers(rig: Rig, tops: dict[str, Arrival], subs: dict[str, Arrival]) -> tuple[Pair, ...]:
    """Each top with its nearest sub, and each sub with its nearest top."""
    full = [t for t in tops if built_for(rig, t) != "sub"]
    low = [s for s in subs if s not in tops]
    if not full or not low:
        return ()
    pairs = {(t, nearest(rig, t, low)): None for t in full} | {(nearest(rig, s, full), s): None for s in low}
    out = []
    for top, sub in pairs:
        meet = tops[top].low_cut_hz or subs[sub].high_cut_hz or 100.0
        out.append(Pair(top, sub, CROSSOVER.format(hz=Amount(f"{meet:g}")), meet))
    return tuple(out)


def helped(rig: Rig, boxes: Sequence[str], mains: Sequence[str]) -> tuple[Pair, ...]:
    """Delay and fill boxes, each with the main box that it supports."""
    out = []
    for box in boxes:
        unit = rig.plan.units.get(box)
        said = str(unit.record.get("supports") or "") if unit else ""
        main = said if said in mains else nearest(rig, box, [m for m in mains if m != box])
        if main:
            out.append(Pair(box, main, HELPED.format(a=box, b=main), _low(rig, box, main)))
    return tuple(out)


def nearest(rig: Rig, box: str, others: Sequence[str]) -> str:
    """The nearest of other boxes by place; the first where places are not known; empty where there is none."""
    here = _point(rig, box)

    def far(other: str) -> float:
        there = _point(rig, other)
        return dist(here, there) if here and there else 0.0

    return min(others, key=far, default="")


def _low(rig: Rig, a: str, b: str) -> float:
    """Where two boxes meet where one of them is a sub, in Hz; else 0."""
    low = [range_of(rig, box).high for box in (a, b) if built_for(rig, box) == "sub"]
    return 0.0 if not low else LOW_HZ if len(low) == 2 else low[0]


def band_overlap(a: Range, b: Range) -> bool:
    """True where two bands overlap or meet."""
    return a.low <= b.high * MEET and b.low <= a.high * MEET


def _point(rig: Rig, box: str) -> tuple[float, float] | None:
    unit = rig.plan.units.get(box)
    at = located(rig, unit.position) if unit else None
    return (at.x, at.y) if at else None


def distinct(pairs: Iterable[Pair]) -> tuple[Pair, ...]:
    """Each pair once, whichever way round."""
    return tuple({frozenset((p.a, p.b)): p for p in reversed(list(pairs))}.values())[::-1]
