"""Just within a limit a check is silent, just beyond it speaks: the limit is moved to either side of the figure.

Each check is tried on the plan that its own explanation gives for a failure, by a `limits:` line of that plan.
"""

from __future__ import annotations

import math
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
    ("circuit-overload", "circuit-share", "%",
     lambda r: 100 * _most(c.eighth.value / c.rating for c in r.mains.circuits)),
    ("delay-out-of-window", "delay-latest", "ms", lambda r: _most(value_of(d.later) for d in r.delays)),
    ("limiter-missing", "amplifier-most", "%",
     lambda r: 100 * _most(((value_of(d.power) or 0.0) - 0.5) / d.continuous_w
                     for c in r.amp_channels for d in c.boxes if d.continuous_w)),
)  # fmt: skip
"""Check, limit, unit, and the figure that may not be greater than the limit."""
LEAST: tuple[tuple[str, str, str, Figures], ...] = (
    ("damping-low", "damping", "", lambda r: _least(value_of(c.damping) for c in r.cable_runs)),
    ("amp-too-small", "amplifier-least", "%",
     lambda r: 100 * _least((value_of(d.power) or 0.0) / d.continuous_w
                      for c in r.amp_channels for d in c.boxes if d.continuous_w)),
    ("level-structure", "headroom", "dB",
     lambda r: _least(s.clips_at.value - r.limits["nominal-level"]
                      for c in r.chains for s in c.stages if s.name == c.amplifier)),
)  # fmt: skip
"""Check, limit, unit, and the figure that may not be less than the limit."""


PLAN_OF = MappingProxyType({"audience-uncovered": "turned-on-its-side"})
"""Its own plan leaves out everybody, whom no limit lets through; this one, with its box upright, a sixth."""


@pytest.mark.parametrize(("check", "key", "unit", "figure"), LEAST, ids=[row[0] for row in LEAST])
def test_at_the_least(check: str, key: str, unit: str, figure: Figures, tmp_path: Path) -> None:
    # the plan that fails turns the amplifier down, so that another stage clips first
    plan = explain(check).part("Passes" if check == "level-structure" else "Fails")
    text = "\n".join(line[4:] for line in plan.splitlines() if not line[4:].startswith("limits:"))
    compiled = compile_text(text, tmp_path / "as-it-is")
    assert compiled.rig is not None
    value = figure(results(compiled.rig))
    for name, limit, speaks in (
        ("within", value - abs(value) * NEAR, False),
        ("beyond", value + abs(value) * NEAR, True),
    ):
        typed = f"{limit:.5f} {unit}" if unit else str(math.ceil(limit) if speaks else math.floor(limit))
        moved = compile_text(f"{text}\nlimits: {{{key}: {typed}}}", tmp_path / name)
        found = {f.check for f in moved.findings}
        assert (check in found) is speaks, f"{value:.4f} {unit}, limit {limit:.4f}, {sorted(found)}"


@pytest.mark.parametrize(("check", "key", "unit", "figure"), MOST, ids=[row[0] for row in MOST])
def test_at_the_limit(check: str, key: str, unit: str, figure: Figures, tmp_path: Path) -> None:
    plan = explain(PLAN_OF.get(check, check)).part("Fails").replace("turned: yes, ", "")
    text = "\n".join(line[4:] for line in plan.splitlines())
    text = "\n".join(line for line in text.splitlines() if not line.startswith("limits:"))
    compiled = compile_text(text, tmp_path / "as-it-is")
    assert compiled.rig is not None
    value = figure(results(compiled.rig))
    for name, limit, speaks in (("within", value * (1 + NEAR), False), ("beyond", value * (1 - NEAR), True)):
        limit = min(limit, 100.0) if unit == "%" and key != "amplifier-most" else limit
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


def _of(check: str, part: str = "Fails") -> str:
    return "\n".join(line[4:] for line in explain(check).part(part).splitlines())


def _speaks(check: str, plan: str, folder: Path) -> bool:
    return check in {f.check for f in compile_text(plan, folder).findings}


def test_as_many_channels_as_the_desk_has(tmp_path: Path) -> None:
    plan = _of("over-capacity")
    rig = compile_text(plan, tmp_path / "as-it-is").rig
    kind = rig.plan.units["desk"].kind if rig else None
    assert kind is not None
    last = int(kind.get("channels"))
    assert not _speaks("over-capacity", plan.replace("{41: ", f"{{{last}: "), tmp_path / "within")
    assert _speaks("over-capacity", plan.replace("{41: ", f"{{{last + 1}: "), tmp_path / "beyond")


def test_carriers_the_spacing_apart(tmp_path: Path) -> None:
    plan = _of("radio-overlap")
    rig = compile_text(plan, tmp_path / "as-it-is").rig
    assert rig is not None
    apart = results(rig).radio.spacing_hz / 1e6
    within = plan.replace("606.7 MHz", f"{606.5 + apart:.4f} MHz")
    beyond = plan.replace("606.7 MHz", f"{606.5 + apart - 0.001:.4f} MHz")
    assert not _speaks("radio-overlap", within, tmp_path / "within")
    assert _speaks("radio-overlap", beyond, tmp_path / "beyond")


def test_boxes_just_above_the_heads(tmp_path: Path) -> None:
    """Ears of seated people at 1.2 m, and 0.3 m above them (common practice)."""
    plan = _of("below-head-height")
    assert not _speaks("below-head-height", plan.replace("1.3 m up", "1.5 m up"), tmp_path / "within")
    assert _speaks("below-head-height", plan.replace("1.3 m up", "1.49 m up"), tmp_path / "beyond")
    assert not _speaks("below-head-height", f"{plan}\nlimits: {{over-heads: 0.1 m}}", tmp_path / "set")


def test_a_margin_just_kept(tmp_path: Path) -> None:
    plan = _of("feedback-margin", "Passes")
    rig = compile_text(plan, tmp_path / "as-it-is").rig
    assert rig is not None
    got = results(rig)
    kept = got.limits["stability-margin"] + _least(value_of(loop.margin) for loop in got.loops)
    for name, margin, speaks in (("within", kept - 0.1, False), ("beyond", kept + 0.6, True)):
        moved = f"{plan}\nlimits: {{stability-margin: {margin:.3f} dB}}"
        assert _speaks("feedback-margin", moved, tmp_path / name) is speaks, f"{kept:.2f} dB"
