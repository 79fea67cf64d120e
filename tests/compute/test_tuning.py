"""What is tuned: every leg that drives a box once, what is set and where, third octaves by the standard."""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from helpers.sites import shows
from rigbook.compute.results import Results, results
from rigbook.compute.tuning import Leg, legs
from rigbook.pipeline import compile_plan

ISO_266 = (
    20, 25, 31.5, 40, 50, 63, 80, 100, 125, 160, 200, 250, 315, 400, 500, 630, 800, 1000, 1250, 1600, 2000, 2500, 3150,
    4000, 5000, 6300, 8000, 10000, 12500, 16000, 20000,
)  # fmt: skip
"""Nominal mid-band frequencies of third octaves in Hz: ISO 266:1997, table 1; IEC 61260-1:2014, annex E."""

RIG = """\
plan: 1
show: Tuning
kinds:
  plain: {is: powered speaker, title: a box, ports: {in: {connector: xlr-female, level: line, direction: in}}}
units:
  desk: desk-16
  left, right: plain
  sub: {kind: powered-sub-18, settings: {in: {delay: 2 ms, polarity: reversed, equaliser: lift at 60 Hz}}}
buses:
  main: {stereo: yes, low-cut: 100 Hz lr 24 dB/oct, delay: 3 ms, equaliser: dip at 250 Hz}
  subs: {role: subs, high-cut: 100 Hz lr 24 dB/oct}
outputs:
  main left: {socket: desk/out 1, delay: 1.5 ms}
  main right: desk/out 2
  subs: desk/out 3
wiring: {xlr: [desk/out 1 -> left, desk/out 2 -> right, desk/out 3 -> sub]}
"""


def got(tmp_path: Path, text: str = RIG) -> Results:
    plan = tmp_path / "plan.yaml"
    plan.write_text(text, "utf-8")
    rig = compile_plan(plan).rig
    assert rig is not None
    return results(rig)


def said(leg: Leg) -> dict[str, tuple[str, str]]:
    return {x.key: (x.where, x.planned) for x in leg.lines}


def test_each_leg_with_what_is_set_and_where(tmp_path: Path) -> None:
    left, right, subs = legs(got(tmp_path))
    assert (left.boxes, right.boxes, subs.boxes) == (("left",), ("right",), ("sub",))
    assert said(left)["delay"] == ("bus main, output main left", "4.5 ms")
    assert said(left)["low-cut bus main"] == ("bus main", "100 Hz Linkwitz-Riley 24 dB/oct")
    assert said(left)["equaliser bus main"] == ("bus main", "dip at 250 Hz")
    assert said(right)["delay"] == ("bus main", "3 ms")
    assert said(subs)["delay"] == ("sub/in", "2 ms")
    assert said(subs)["equaliser sub/in"] == ("sub/in", "lift at 60 Hz")
    assert said(subs)["polarity"] == ("sub/in", "reversed")


def test_boxes_that_are_set_otherwise_have_lines_of_their_own(tmp_path: Path) -> None:
    text = RIG.replace("main right: desk/out 2", "main right: [desk/out 2, desk/out 4]")
    text = text.replace("desk/out 3 -> sub", "desk/out 3 -> sub, desk/out 4 -> late")
    late = "left, right: plain\n  late: {kind: plain, settings: {in: {delay: 10 ms}}}"
    text = text.replace("left, right: plain", late)
    right = next(x for x in legs(got(tmp_path, text)) if "right" in x.node)
    delays = {x.boxes: x.planned for x in right.lines if x.key.startswith("delay")}
    assert delays == {("right",): "3 ms", ("late",): "13 ms"}


def test_bands_are_those_of_the_standard(tmp_path: Path) -> None:
    """All where a kind does not say what it plays; of a sub an octave more than its range at either end."""
    left, _, subs = legs(got(tmp_path))
    assert left.bands == ISO_266
    rig = got(tmp_path)
    low, high = (q.value for q in rig.boxes.by_name["sub"].kind.get("range"))
    assert subs.bands == tuple(f for f in ISO_266 if low / 2 <= f <= high * 2)


@pytest.mark.parametrize("show", shows(), ids=lambda p: p.stem)
def test_shows(show: Path) -> None:
    """Every box in use that hears a bus is on a sheet; lines are told apart by their key."""
    rig = compile_plan(show).rig
    assert rig is not None
    found = legs(results(rig))
    assert {b for leg in found for b in leg.boxes} == {b.name for b in results(rig).boxes.all if b.legs}
    for leg in found:
        assert len({x.key for x in leg.lines}) == len(leg.lines), leg.node


def test_levels_of_the_legs_add_up() -> None:
    """Main boxes alone, added as energies, are the show's level but for what the subs add to an A-weighted level."""
    rig = compile_plan(next(p for p in shows() if p.stem == "reel-night")).rig
    assert rig is not None
    lines = [x for leg in legs(results(rig)) if leg.bus.role == "mains" for x in leg.lines]
    each = [x.worked.value for x in lines if x.key == "level"]
    together = 10 * math.log10(sum(10 ** (v / 10) for v in each))
    assert together == pytest.approx(results(rig).levels.programme.value, abs=1.0)
