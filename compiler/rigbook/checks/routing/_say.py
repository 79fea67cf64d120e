"""Words that several routing checks share."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Final

from rigbook.findings.finding import Label
from rigbook.graph import kinds as k
from rigbook.graph.loose_ends import Want
from rigbook.graph.rig import Rig
from rigbook.graph.ways import way_words
from rigbook.plan.model import Bus
from rigbook.text.phrase import counted, joined, listed, phrase

LEFT: Final = phrase("the left side of `%(bus)s`")
RIGHT: Final = phrase("the right side of `%(bus)s`")


def names(items: Iterable[str], most: int = 3) -> str:
    """Names in backticks, as said in a sentence: `a`, `b` and `c`; the first few of many."""
    every = [f"`{i}`" for i in items]
    if len(every) > most:
        every = [*every[: most - 1], phrase("%(count)s more", count=len(every) - most + 1)]
    return listed(every)


def leg_name(rig: Rig, leg: str) -> str:
    """A bus leg as typed in a plan: `main left`."""
    data = rig.net.nodes[leg]
    return f"{data['bus'].name} {data['leg']}".rstrip()


def plain_legs(bus: Bus, legs: Sequence[str]) -> str:
    """A bus, or the one side of it that is meant: `mix-1`; `main`; the left side of `main`."""
    if bus.stereo and len(legs) == 1:
        side = LEFT if legs[0] == "left" else RIGHT
        return phrase(side, bus=bus.name)
    return f"`{bus.name}`"


def silence(rig: Rig, wants: Sequence[Want], otherwise: str) -> str:
    """What the audience or the player notices of these loose ends."""
    ends = list(dict.fromkeys(e for w in wants for e in w.ends))
    boxes = [e for e in ends if rig.net.nodes[e]["kind"] == k.BOX]
    if boxes:
        return counted(len(boxes), "%(names)s stays silent", "%(names)s stay silent", names=names(boxes))
    return phrase("nothing comes to %(names)s", names=names(ends)) if ends else otherwise


def waiting(wants: Iterable[Want]) -> tuple[Label, ...]:
    """The places of what waits for a signal."""
    return tuple(
        Label(
            w.span,
            phrase("this cable to %(names)s waits", names=names(w.ends))
            if w.cable
            else phrase("%(names)s waits", names=names(w.ends)),
        )
        for w in wants
    )


def ways(rig: Rig, ends: Iterable[tuple[str, str]]) -> str:
    """Several ways in words, one behind the other."""
    return joined(dict.fromkeys(filter(None, (way_words(rig, a, b) for a, b in ends))), " · ")
