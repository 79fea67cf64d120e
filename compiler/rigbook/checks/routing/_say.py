"""Words that several routing checks share."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from rigbook.findings.finding import Label
from rigbook.graph import kinds as k
from rigbook.graph.loose_ends import Want
from rigbook.graph.rig import Rig
from rigbook.graph.ways import way_words
from rigbook.plan.model import Bus


def names(items: Iterable[str], most: int = 3) -> str:
    """Names in backticks, as said in a sentence: `a`, `b` and `c`; the first few of many."""
    every = [f"`{i}`" for i in items]
    if len(every) > most:
        every = [*every[: most - 1], f"{len(every) - most + 1} more"]
    return " and ".join([", ".join(every[:-1]), every[-1]] if len(every) > 1 else every)


def leg_name(rig: Rig, leg: str) -> str:
    """A bus leg as typed in a plan: `main left`."""
    data = rig.net.nodes[leg]
    return f"{data['bus'].name} {data['leg']}".rstrip()


def plain_legs(bus: Bus, legs: Sequence[str]) -> str:
    """A bus, or the one side of it that is meant: `mix-1`; `main`; the left side of `main`."""
    if bus.stereo and len(legs) == 1:
        return f"the {legs[0]} side of `{bus.name}`"
    return f"`{bus.name}`"


def silence(rig: Rig, wants: Sequence[Want], otherwise: str) -> str:
    """What the audience or the player notices of these loose ends."""
    ends = [e for w in wants for e in w.ends]
    boxes = [e for e in ends if rig.net.nodes[e]["kind"] == k.BOX]
    if boxes:
        return f"{names(boxes)} {'stay' if len(boxes) > 1 else 'stays'} silent"
    return f"nothing comes to {names(ends)}" if ends else otherwise


def waiting(wants: Iterable[Want]) -> tuple[Label, ...]:
    """The places of what waits for a signal."""
    return tuple(
        Label(w.span, f"this cable to {names(w.ends)} waits" if w.cable else f"{names(w.ends)} waits") for w in wants
    )


def ways(rig: Rig, ends: Iterable[tuple[str, str]]) -> str:
    """Several ways in words, one behind the other."""
    return " · ".join(dict.fromkeys(filter(None, (way_words(rig, a, b) for a, b in ends))))
