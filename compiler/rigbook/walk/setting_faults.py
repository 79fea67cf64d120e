"""What may be wrong at a point with processing: a filter missing or doubled, a delay missing."""

from __future__ import annotations

from collections.abc import Iterator
from types import MappingProxyType
from typing import Final

from rigbook.plan.processing import Processing
from rigbook.text.phrase import phrase
from rigbook.walk.fault import Bench, Fault, Sight, Thing
from rigbook.walk.wires import Change, Cut, Wire, cut_of


def setting_faults(bench: Bench, numbers: list[int], of: Processing, thing: Thing, effort: float) -> Iterator[Fault]:
    """A filter missing or doubled, a delay missing, at one point with processing."""
    look = f"{thing.sort}|{thing.name}"
    for side, said in (("low", of.low_cut), ("high", of.high_cut)):
        if said is None:
            continue
        for word, times in (("missing", 0), ("doubled", 2)):
            change = Change({i: _times(bench.wires.wires[i], cut_of(side, said), times) for i in numbers})
            check = phrase(CUTS[side, "check"], name=thing.name, filter=said.text)
            yield Fault(
                f"{side} cut {word} {thing.sort} {thing.name}",
                f"filter {word}",
                phrase(CUTS[side, word], name=thing.name, filter=said.text),
                check,
                (thing,),
                "",
                effort,
                2.0,
                change,
                (Sight("setting", look, f"{side} cut {word}"),),
            )
    if of.delay is not None and of.delay.value:
        change = Change({i: _sooner(bench.wires.wires[i], of.delay.value) for i in numbers})
        yield Fault(
            f"delay missing {thing.sort} {thing.name}",
            "delay missing",
            phrase("the delay of `%(name)s` is not set", name=thing.name),
            phrase("look at the delay of `%(name)s`: it must be %(delay)s", name=thing.name, delay=of.delay),
            (thing,),
            "",
            effort,
            2.0,
            change,
            (Sight("setting", look, "delay missing"),),
        )


CUTS: Final = MappingProxyType(
    {
        ("low", "missing"): phrase("the low cut %(filter)s of `%(name)s` is missing"),
        ("low", "doubled"): phrase("the low cut %(filter)s of `%(name)s` acts twice"),
        ("low", "check"): phrase("look at the low cut of `%(name)s`: it must be %(filter)s, once"),
        ("high", "missing"): phrase("the high cut %(filter)s of `%(name)s` is missing"),
        ("high", "doubled"): phrase("the high cut %(filter)s of `%(name)s` acts twice"),
        ("high", "check"): phrase("look at the high cut of `%(name)s`: it must be %(filter)s, once"),
    }
)


def _times(wire: Wire, filter_: Cut, times: int) -> Wire:
    """The wire with a filter that is there once acting `times` times."""
    cuts = list(wire.cuts)
    cuts.remove(filter_)
    return wire._replace(cuts=tuple(sorted([*cuts, *[filter_] * times])))


def _sooner(wire: Wire, delay: float) -> Wire:
    return wire._replace(delay=round(wire.delay - delay, 7))
