"""Just within a limit a check is silent, just beyond it speaks: the limit is moved to either side of the figure.

Each check is tried on the plan that its own explanation gives for a failure, by a `limits:` line of that plan.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from types import MappingProxyType

import pytest

from helpers.check_pages import compile_text
from rigbook.checks.catalogue import explain
from rigbook.compute.figure import value_of
from rigbook.compute.results import Results, results

NEAR = 0.01
"""How far from the figure the limit is set, of the figure."""
Figures = Callable[[Results], float]


def _most(values: object) -> float:
    return max(v for v in values if v is not None)  # type: ignore[attr-defined, no-any-return]


def _least(values: object) -> float:
    return min(v for v in values if v is not None)  # type: ignore[attr-defined, no-any-return]


MOST: tuple[tuple[str, str, str, Figures], ...] = (
    ("voltage-drop", "voltage-drop", "%", lambda r: _most(value_of(c.drop) for c in r.mains.circuits)),
    ("lift-by-two", "lift", "kg", lambda r: _most(k.per_lifter.value for k in r.racks)),
    ("rack-no-air", "rack-heat", "W", lambda r: _most(k.heat.value for k in r.racks)),
    ("phase-unbalanced", "phase-unbalance", "%", lambda r: _most(value_of(s.unbalance) for s in r.mains.supplies)),
    ("coverage-uneven", "spread", "dB", lambda r: _most(a.bands[0].spread.value for a in r.levels.by_area)),
    ("audience-uncovered", "uncovered", "%", lambda r: _most(a.uncovered.value for a in r.levels.by_area)),
    ("front-row-level", "front-row", "dB",
     lambda r: _most(a.first_row.value - r.levels.spots[0][1].value for a in r.levels.by_area)),
    ("exposure-over-limit", "exposure", "dB(A)",
     lambda r: _most(a.bands[0].highest.value for a in r.levels.by_area)),
    ("speaker-cable-loss", "speaker-cable-loss", "dB", lambda r: _most(value_of(c.loss) for c in r.cable_runs)),
)  # fmt: skip
"""Check, limit, unit, and the figure that may not be greater than the limit."""


PLAN_OF = MappingProxyType({"audience-uncovered": "turned-on-its-side"})
"""Its own plan leaves out everybody, whom no limit lets through; this one, with its box upright, a sixth."""


@pytest.mark.parametrize(("check", "key", "unit", "figure"), MOST, ids=[row[0] for row in MOST])
def test_at_the_limit(check: str, key: str, unit: str, figure: Figures, tmp_path: Path) -> None:
    plan = explain(PLAN_OF.get(check, check)).part("Fails").replace("turned: yes, ", "")
    text = "\n".join(line[4:] for line in plan.splitlines())
    text = "\n".join(line for line in text.splitlines() if not line.startswith("limits:"))
    compiled = compile_text(text, tmp_path / "as-it-is")
    assert compiled.rig is not None
    value = figure(results(compiled.rig))
    for name, limit, speaks in (("within", value * (1 + NEAR), False), ("beyond", value * (1 - NEAR), True)):
        limit = min(limit, 100.0) if unit == "%" else limit
        moved = compile_text(f"{text}\nlimits: {{{key}: {limit:.5f} {unit}}}", tmp_path / name)
        assert (check in {f.check for f in moved.findings}) is speaks, f"{value:.4f} {unit}, limit {limit:.4f}"


LENGTHS = """
plan: 1
show: Supper
units: {desk: desk-16, box: stage-box-16, left: powered-top-12}
inputs: {1: {name: Music, from: desk/line 1+2, line: laptop, source: playback, cable: UNBALANCED m, to: main}}
buses: {main: {}}
outputs: {main: desk/out 1}
wiring: {network: ["desk/net A -> box/net A, NETWORK m"], xlr: [desk/out 1 -> left/in]}
"""
LOADS = """
plan: 1
show: Supper
room:
  size: 10 x 20 x 5 m
  mix-position: MIX m out 1.2 m up
  audience: {floor: {from: 4 m left 3 m out, to: 4 m right 9 m out}}
kinds:
  weak-stand: {is: stand, title: weak stand, load: STAND kg}
  weak-rack: {is: rack, title: weak rack, height: 6 U, weight: 10 kg, load: RACK kg}
  heavy:
    is: processor
    title: heavy
    height: 2 U
    weight: 20 kg
    ports: {in: {connector: xlr-female, level: line, direction: in}}
  our-top:
    is: powered speaker
    title: our top
    weight: 20 kg
    ports: {in: {connector: xlr-female, level: line, direction: in}}
units: {desk: desk-16, unit: {kind: heavy, spare: yes}, left: {kind: our-top, stand: weak-stand}}
inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main}}
buses: {main: {}}
outputs: {main: desk/out 1}
wiring: {xlr: [desk/out 1 -> left/in]}
racks: {small: {kind: weak-rack, front: {FRONT: unit}, lifts: 4}}
"""
OWN = (
    ("unbalanced-too-long", LENGTHS, "UNBALANCED", "6", "6.01"),
    ("network-cable-too-long", LENGTHS, "NETWORK", "100", "100.1"),
    ("rack-heavy", LOADS, "RACK", "20", "19.9"),
    ("rack-overfull", LOADS, "FRONT", "5", "6"),
    ("stand-overload", LOADS, "STAND", "20", "19.9"),
    ("outside-room", LOADS, "MIX", "20", "20.1"),
)
"""Check, plan, what is moved, its last value within, its first beyond; the rest stays within."""


@pytest.mark.parametrize(("check", "plan", "word", "within", "beyond"), OWN, ids=[row[0] for row in OWN])
def test_at_a_things_own_limit(check: str, plan: str, word: str, within: str, beyond: str, tmp_path: Path) -> None:
    usual = {row[2]: row[3] for row in OWN if row[1] is plan}
    for name, value, speaks in (("within", within, False), ("beyond", beyond, True)):
        moved = plan.strip()
        for key, amount in {**usual, word: value}.items():
            moved = moved.replace(key, amount)
        found = {f.check for f in compile_text(moved, tmp_path / name).findings}
        assert (check in found) is speaks, sorted(found)
