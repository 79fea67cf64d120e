"""Every single fault shows in some step, or says why none shows it; and the engine hears what a listener hears.

Source of the oracle: networkx's `all_simple_edge_paths`, see `helpers/walk_rigs.py`.
"""

from __future__ import annotations

from pathlib import Path

import networkx as nx
import pytest
from hypothesis import given, settings

from helpers.random_rigs import KINDS, RandomRig, rigs
from helpers.sites import shows
from helpers.walk_rigs import Listener, rig_at, rig_of
from rigbook.graph.rig import Rig
from rigbook.walk.faults import faults
from rigbook.walk.table import FADER, HEAR, PAIR, Seen, Table
from rigbook.walk.trial import Trial, trial
from rigbook.walk.wires import Change

EVERY = 97
"""Of the faults of a large show, each so many-th is put before the listener; all of them in the slow run."""
SMALL = 500
"""Nodes of a show that is not large."""


def check(rig: Rig, every: int = 1) -> None:
    ready = trial(rig)
    table, listener = ready.table(), Listener(ready)
    known: dict[object, dict[Seen, str]] = {}
    for row in table.rows[::every]:
        # an open lead, a dead source and phantom power that is off do the same to the wires
        change = row.fault.change
        if change.key not in known:
            known[change.key] = heard_by_listener(listener, change, row.behind)
        heard = known[change.key]
        if rings(ready, change):
            continue  # what comes round again and again is louder than any one way round says
        effects = {s: v for s, v in row.effects.items() if s.kind in (HEAR, PAIR, FADER)}
        assert heard == effects, row.fault.key
        assert bool(row.reason) == (not effects), row.fault.key


def rings(ready: Trial, change: Change) -> bool:
    """A cable in the wrong place closes a ring, which howls."""
    wires = [w for i, w in enumerate(ready.wires.wires) if change.replaced.get(i, w) is not None]
    graph = nx.DiGraph([(w.tail, w.head) for w in (*wires, *change.added)])
    return any(nx.has_path(graph, w.head, w.tail) for w in change.added)


def heard_by_listener(listener: Listener, change: Change, behind: bool) -> dict[Seen, str]:
    out: dict[Seen, str] = {}
    for play in listener.trial.plays:
        if not (behind and play.kind == "line"):
            out |= listener.listen(change, play)
    return out


@settings(max_examples=8, deadline=None)
@given(rigs(most_buses=2))
def test_the_engine_hears_what_a_listener_hears(random: RandomRig) -> None:
    check(rig_of(random.text))


@pytest.mark.parametrize("show", shows(), ids=lambda p: p.stem)
def test_shipped_shows(show: Path, request: pytest.FixtureRequest) -> None:
    rig = rig_at(show)
    whole = request.config.getoption("--slow") or len(rig.graph) < SMALL
    check(rig, 1 if whole else EVERY)


@settings(max_examples=20, deadline=None)
@given(rigs())
def test_keys_are_unique_and_words_whole(random: RandomRig) -> None:
    ready = trial(rig_of(random.text))
    found = faults(ready.rig, ready.wires)
    assert len({f.key for f in found}) == len(found)
    for f in found:
        assert f.words and f.check and f.things and not f.words.endswith("."), f
        assert "safe" not in f.words + f.check


MODEL = {
    "open cable": ("open cable", "open lead", "network cable open", "multicore not plugged in",
                   "line of a multicore open"),
    "swapped pair": ("outputs exchanged", "inputs exchanged", "crossed cables", "crossed leads"),
    "missing link": ("link missing",),
    "wrong socket": ("wrong socket", "lead in the wrong socket"),
    "reversed polarity": ("signal polarity reversed", "speaker polarity reversed", "lead polarity reversed",
                          "output polarity reversed", "speaker wired reversed"),
    "dead channel": ("dead channel", "dead speaker", "dead recorder", "source silent"),
    "off": ("unit off",),
    "muted or turned down": ("muted amplifier", "amplifier turned down", "powered speaker off",
                             "powered speaker turned down"),
    "not patched": ("output not patched", "input not patched", "send closed"),
    "filter": ("filter missing", "filter doubled"),
    "pick-off": ("pick-off wrong", "send pick-off wrong"),
    "delay": ("delay missing",),
    "mono": ("left and right summed", "mono feed from one side"),
    "phantom": ("phantom power off",),
    "pan": ("source panned",),
    "mode": ("mode switch wrong",),
    "hum": ("shield with a bad contact", "earth loop"),
    "insert": ("insert not patched", "insert sides exchanged", "insert switched out"),
}  # fmt: skip
"""What may go wrong on stage (common practice), and the kinds of fault that stand for it."""

MONO_FEED = (
    KINDS
    + """\
units:
  desk: desk
  box: box
  left, right, lobby: act
inputs:
  1: {name: Source, from: box/in 1, mic: mic, to: [main]}
buses:
  main: {role: mains, stereo: yes}
outputs:
  main left: box/out 1
  main right: box/out 2
  main mono: box/out 3
wiring:
  net-cable: ["desk/net A -> box/net A, 30 m"]
  line-cable: ["box/out 1 -> left, 5 m", "box/out 2 -> right, 5 m", "box/out 3 -> lobby, 5 m"]
"""
)


INSERTED = MONO_FEED.replace("  left, right, lobby: act", "  left, right, lobby: act\n  outboard: outboard").replace(
    "stereo: yes}", "stereo: yes, insert: {send: desk/out 1+2, return: desk/line 1+2}}").replace(
    '  line-cable: ["box', '  line-cable: ["desk/out 1-2 -> outboard/in A-B, 2 m", '
    '"outboard/out A-B -> desk/line 1-2, 2 m", "box')  # fmt: skip
"""Outboard equipment in the insert of a stereo main bus."""


@pytest.mark.parametrize("key", [
    "open desk/out 1 -> outboard/in A", "open outboard/out A -> desk/line 1", "insert send desk/out 1",
    "insert return desk/line 1", "dead outboard/out A",
])  # fmt: skip
def test_an_insert_that_is_open_silences_its_side(key: str) -> None:
    """The desk listens to the return alone while the insert is in (common practice)."""
    (row,) = [r for r in Table.of(rig_of(INSERTED)).rows if r.fault.key == key]
    silent = {(s.play, s.subject) for s, v in row.effects.items() if s.kind == HEAR and v == "silent"}
    assert {("main-left", "left"), ("main-left", "lobby")} <= silent
    assert not [s for s in silent if s[1] == "right"]
    assert not row.reason


def test_the_lights_of_an_insert_tell_its_cables_apart() -> None:
    """A signal light at the input of the outboard unit: dark without the cable to it, lit without the one from it."""
    rows = {r.fault.key: r for r in Table.of(rig_of(INSERTED)).rows}
    light = Seen("light", "main-left", "outboard/in A")
    assert rows["open desk/out 1 -> outboard/in A"].effects[light] == "dark"
    assert light not in rows["open outboard/out A -> desk/line 1"].effects


def test_an_insert_that_is_switched_out_is_not_heard() -> None:
    """It sounds, unprocessed: noise through the boxes does not tell, so what is inserted is turned down (practice)."""
    (row,) = [r for r in Table.of(rig_of(INSERTED)).rows if r.fault.kind == "insert switched out"]
    assert "turn the output" in row.reason
    assert row.effects == {Seen("setting", "", "insert|main"): "switched out"}


def test_an_amplifier_that_is_off_silences_all_it_drives() -> None:
    rig = rig_of(MONO_FEED.replace("  left, right, lobby: act", "  lobby: act\n  left, right: top\n  amp: amp").replace(
        'line-cable: ["box/out 1 -> left, 5 m", "box/out 2 -> right, 5 m", ',
        'spk-cable: [amp/out A -> left, amp/out B -> right]\n  line-cable: ["box/out 1 -> amp/in A", '
        '"box/out 2 -> amp/in B", '))  # fmt: skip
    (row,) = [r for r in Table.of(rig).rows if r.fault.key == "off amp"]
    silent = {s.subject for s, v in row.effects.items() if s.kind == HEAR and v}
    assert silent == {"left", "right"}


def test_every_kind_of_fault_is_made_and_shows() -> None:
    """Over the shows that are shipped; each kind shows in some step at least once."""
    rigs = [*(rig_at(p) for p in shows()), rig_of(MONO_FEED), rig_of(INSERTED)]
    rows = [r for rig in rigs for r in Table.of(rig).rows]
    kinds, shown = {r.fault.kind for r in rows}, {r.fault.kind for r in rows if not r.reason}
    wanted = {kind for group in MODEL.values() for kind in group}
    assert kinds == wanted, (wanted - kinds, kinds - wanted)
    # an insert that is out sounds as ever
    assert shown == wanted - {"insert switched out"}, wanted - shown


@settings(max_examples=5, deadline=None)
@given(rigs(most_buses=2))
def test_behind_the_desk_only_the_boxes_of_a_fault_differ_in_the_line_check(random: RandomRig) -> None:
    """So the finder may say of all other boxes that such a fault leaves them as they must be."""
    ready = trial(rig_of(random.text))
    listener = Listener(ready)
    for row in ready.table().testable:
        if row.behind:
            heard = (listener.listen(row.fault.change, p) for p in ready.plays if p.kind == "line")
            assert {s.subject for h in heard for s in h} <= row.touched, row.fault.key
