"""One revision against another: each change is told as what it is, nothing else is; forwards and backwards alike."""

from __future__ import annotations

import re
from itertools import pairwise
from pathlib import Path

import pytest

from helpers.random_rigs import seeded
from helpers.sites import shows
from rigbook.compute.changes import ADDED, CHANGED, GONE, GROUPS, Change, changes
from rigbook.compute.things import things
from rigbook.pipeline import compile_plan
from rigbook.plan.model import Plan
from rigbook.walk.again import again, no_more

RIG = """\
plan: 1
show: Changes
doors: 19:00
units:
  desk: desk-16
  box: {kind: stage-box-16, text: wakes slowly}
  amp: {kind: amplifier-2x500, settings: {in A: {delay: 2 ms}}}
  left, right: {kind: top-12, at: 4 m left 1 m out 2 m up}
inputs:
  5: {name: Fiddle, from: box/in 5, mic: condenser-clip, phantom: yes, low-cut: 120 Hz, to: [main, mix -6 dB]}
  6: {name: Flute, from: box/in 6, mic: dynamic-vocal, to: main}
buses:
  main: {stereo: yes, low-cut: 100 Hz lr 24 dB/oct, limiter: +6 dBu}
  mix: {monitor-for: Fiddle}
outputs: {main left: box/out 1, main right: box/out 2, mix: box/out 3}
wiring:
  network: ["desk/net A -> box/net A, 30 m"]
  xlr: ["box/out 1 -> amp/in A, 2 m, label W7", "box/out 2 -> amp/in B, 2 m"]
  speaker-2.5-mm2: ["amp/out A -> left, 15 m", "amp/out B -> right, 10 m"]
racks: {side: {kind: rack-12u, front: {1: amp, 4: box}}}
power: {circuits: {stage: {rating: 16 A, feeds: [amp]}}}
contacts: {Sound: {name: Ada, phone: extension 12}}
notes: {Doors: Ring the bell.}
"""


def plan(tmp_path: Path, text: str) -> Plan:
    file = tmp_path / "plan.yaml"
    file.write_text(text, "utf-8")
    got = compile_plan(file).plan
    assert got is not None
    return got


def told(tmp_path: Path, *swaps: tuple[str, str]) -> list[Change]:
    text = RIG
    for old, new in swaps:
        assert old in text, old
        text = text.replace(old, new)
    return list(changes(plan(tmp_path, RIG), plan(tmp_path, text)))


ONE = [
    ("doors: 19:00", "doors: 18:30", ("plan", "", "doors", "19:00", "18:30")),
    ("  5: {name: Fiddle", "  9: {name: Fiddle", ("inputs", "Fiddle", "channel", "5", "9")),
    ("name: Flute", "name: Whistle", ("inputs", "channel 6", "name", "Flute", "Whistle")),
    ("from: box/in 6", "from: box/in 8", ("inputs", "channel 6 Flute", "plugged into", "box/in 6", "box/in 8")),
    ("low-cut: 120 Hz", "low-cut: 90 Hz", ("inputs", "channel 5 Fiddle", "low cut", "120 Hz", "90 Hz")),
    ("mix -6 dB", "mix -9 dB", ("inputs", "channel 5 Fiddle", "send to mix", "−6 dB", "−9 dB")),
    ("[main, mix -6 dB]", "main", ("inputs", "channel 5 Fiddle", "send to mix", "−6 dB", "")),
    ("phantom: yes, ", "", ("inputs", "channel 5 Fiddle", "phantom power", "yes", "")),
    ("limiter: +6 dBu", "limiter: +3 dBu", ("buses", "bus main", "limiter", "+6 dBu", "+3 dBu")),
    ("mix: box/out 3", "mix: box/out 4", ("outputs", "output mix", "leaves by", "box/out 3", "box/out 4")),
    ("amp/out A -> left, 15 m", "amp/out A -> left, 20 m",
     ("cables", "amp/out A → left/in", "length", "15 m", "20 m")),
    (", label W7", ", label W9", ("cables", "box/out 1 → amp/in A", "label", "W7", "W9")),
    ("desk/net A -> box", "desk/net B -> box", ("cables", "box/net A", "other end", "desk/net A", "desk/net B")),
    ("amplifier-2x500", "amplifier-2x1000", ("units", "amp", "kind", "amplifier-2x500", "amplifier-2x1000")),
    ("delay: 2 ms", "delay: 3 ms", ("units", "amp", "in A: delay time", "2 ms", "3 ms")),
    ("text: wakes slowly", "text: wakes fast", ("units", "box", "note", "wakes slowly", "wakes fast")),
    ("front: {1: amp, 4: box}", "front: {2: amp, 4: box}",
     ("racks", "rack side", "amp", "front, unit 1", "front, unit 2")),
    ("feeds: [amp]", "feeds: [amp, box]", ("circuits", "circuit stage", "feeds", "amp", "amp, box")),
    ("extension 12", "extension 13",
     ("contacts", "Sound", "telephone or radio channel", "extension 12", "extension 13")),
    ("Ring the bell", "Knock", ("notes", "Doors", "note", "Ring the bell.", "Knock.")),
]  # fmt: skip


@pytest.mark.parametrize(("old", "new", "expected"), ONE, ids=[new for _, new, _ in ONE])
def test_one_change_is_told_as_what_it_is(tmp_path: Path, old: str, new: str, expected: tuple[str, ...]) -> None:
    (got,) = told(tmp_path, (old, new))
    before, after = (text.replace("\xa0", " ") for text in (got.before, got.after))
    assert (got.group, got.subject, got.what, before, after) == expected
    assert got.how == CHANGED
    assert got.task or got.group in ("plan", "contacts", "notes") or got.what == "note"


def test_what_comes_and_what_goes(tmp_path: Path) -> None:
    (come,) = told(tmp_path, ("extension 12}}", "extension 12}, Fire: {name: Bo}}"))
    assert (come.how, come.group, come.subject, come.after) == (ADDED, "contacts", "Fire", "Bo")
    (gone,) = told(tmp_path, ("  6: {name: Flute, from: box/in 6, mic: dynamic-vocal, to: main}\n", ""))
    assert (gone.how, gone.subject, gone.before) == (GONE, "channel 6 Flute", "dynamic-vocal, box/in 6")
    assert gone.task == "unplug it, clear the channel"


def test_two_channels_that_change_places(tmp_path: Path) -> None:
    got = told(tmp_path, ("  5: {name", "  X: {name"), ("  6: {name", "  5: {name"), ("  X: {name", "  6: {name"))
    assert [(c.subject, c.what, c.before, c.after) for c in got] == [
        ("Flute", "channel", "6", "5"), ("Fiddle", "channel", "5", "6"),
    ]  # fmt: skip


def test_how_it_is_typed_is_no_change(tmp_path: Path) -> None:
    """Amounts in other units, lines in another order, a comment."""
    assert told(tmp_path, ("15 m", "1500 cm"), ("delay: 2 ms", "delay: 0.002 s"), ("doors:", "# an hour\ndoors:")) == []
    lines = re.search(r"  5: .*\n  6: .*\n", RIG)
    assert lines is not None
    five, six = lines[0].splitlines(keepends=True)
    assert told(tmp_path, (lines[0], six + five)) == []


def mirrored(found: tuple[Change, ...]) -> list[tuple[str, ...]]:
    other = {ADDED: GONE, GONE: ADDED, CHANGED: CHANGED}
    return sorted((c.group, other[c.how], c.subject, c.what, c.after, c.before) for c in found)


def both_ways(a: Plan, b: Plan) -> None:
    back = sorted((c.group, c.how, c.subject, c.what, c.before, c.after) for c in changes(b, a))
    assert mirrored(changes(a, b)) == back
    assert changes(a, a) == changes(b, b) == ()


@pytest.mark.parametrize("number", range(12))
def test_random_rigs_forwards_and_backwards(tmp_path: Path, number: int) -> None:
    """Whatever two rigs are: the way back is the way there with its sides exchanged; against itself it is empty."""
    both_ways(*(plan(tmp_path, seeded(2 * number + n).text) for n in (0, 1)))


@pytest.mark.parametrize(("one", "other"), tuple(pairwise(shows())), ids=lambda p: p.stem)
def test_shows_forwards_and_backwards(one: Path, other: Path) -> None:
    plans = [compile_plan(path).plan for path in (one, other)]
    assert plans[0] is not None
    assert plans[1] is not None
    both_ways(plans[0], plans[1])
    for each in plans:
        assert {t.group for t in things(each)} <= set(GROUPS), "a group without a title would never be told"


def test_the_walk_test_asks_again_what_is_touched(tmp_path: Path) -> None:
    """A longer speaker cable on the left: the steps that play over it, and no line of an input."""
    file = tmp_path / "plan.yaml"
    rigs = []
    for text in (RIG, RIG.replace("left, 15 m", "left, 20 m"), RIG.replace("  mix: {monitor-for: Fiddle}\n", "")):
        file.write_text(text, "utf-8")
        rigs.append(compile_plan(file).rig)
    old, longer, fewer = rigs
    assert old is not None
    assert longer is not None
    assert fewer is not None
    assert again(old, old) == ()
    titles = [a.title for a in again(old, longer)]
    assert any("left" in t for t in titles)
    assert not [t for t in titles if t.startswith("channel")]
    assert no_more(old, old) == ()


def test_another_name_is_one_change_and_not_a_unit_gone_and_a_unit_come(tmp_path: Path) -> None:
    """Same kind, same sockets, same neighbours; its cables, rack and circuit follow it."""
    other = plan(tmp_path, re.sub(r"\bamp\b(?=/|:|]|,)", "stack", RIG).replace("left, right", "house-left, right")
                 .replace("-> left,", "-> house-left,"))
    assert {"stack", "house-left"} <= other.units.keys()
    found = changes(plan(tmp_path, RIG), other)
    assert [(c.group, c.subject, c.what, c.before, c.after, c.task) for c in found] == [
        ("units", "stack", "name", "amp", "stack", "label it anew"),
        ("units", "house-left", "name", "left", "house-left", "label it anew")]
    assert [(c.before, c.after) for c in changes(other, plan(tmp_path, RIG))] == [
        ("stack", "amp"), ("house-left", "left")]


def test_two_that_could_be_meant_are_told_as_gone_and_come(tmp_path: Path) -> None:
    """Without cables nothing says which of two alike is which; of another kind it is another unit."""
    spare = RIG.replace("  left, right:", "  spare-a, spare-b: top-12\n  left, right:")
    one, two = plan(tmp_path, spare), plan(tmp_path, spare.replace("spare-a, spare-b", "spare-c, spare-d"))
    assert sorted((c.how, c.subject) for c in changes(one, two)) == [
        (ADDED, "spare-c"), (ADDED, "spare-d"), (GONE, "spare-a"), (GONE, "spare-b")]
    swapped = told(tmp_path, ("  amp: {kind: amplifier-2x500", "  stack: {kind: amplifier-2x900"),
                   ("amp/in A", "stack/in A"), ("amp/in B", "stack/in B"), ("amp/out A", "stack/out A"),
                   ("amp/out B", "stack/out B"), ("1: amp", "1: stack"), ("[amp]", "[stack]"))
    assert {(c.how, c.subject) for c in swapped if c.group == "units"} == {(GONE, "amp"), (ADDED, "stack")}
