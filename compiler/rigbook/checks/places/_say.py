"""Words and grouping shared by the checks of places."""

from __future__ import annotations

from collections.abc import Iterable

from rigbook.compute.places import Spot
from rigbook.plan.model import Channel

Pair = tuple[Channel, Spot, str]
"""A channel with a placed microphone, where that stands, and a box."""


def listed(names: Iterable[str]) -> str:
    """Names in backticks: `a`, `b` and `c`."""
    quoted = [f"`{n}`" for n in dict.fromkeys(names)]
    return " and ".join([", ".join(quoted[:-1]), quoted[-1]] if len(quoted) > 1 else quoted)


def grouped(pairs: list[Pair]) -> list[list[Pair]]:
    """Pairs by box where a box is at fault (more microphones than boxes), else by the place of the microphone."""
    boxes = {box for _, _, box in pairs}
    spots = {spot for _, spot, _ in pairs}
    by_box = len(boxes) < len(spots)
    out: dict[object, list[Pair]] = {}
    for pair in pairs:
        out.setdefault(pair[2] if by_box else pair[1], []).append(pair)
    return list(out.values())
