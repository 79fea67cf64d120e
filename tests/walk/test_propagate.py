"""From the change on is the same as from the start; cones and polarity, by hand."""

from __future__ import annotations

from hypothesis import given, settings

from helpers.random_rigs import RandomRig, rigs, seeded
from helpers.walk_rigs import rig_of
from rigbook.walk.cones import SILENCE, Cones, turned
from rigbook.walk.fault import cut
from rigbook.walk.faults import faults
from rigbook.walk.propagate import FULL, differing, joined, planned, through
from rigbook.walk.trial import Trial, trial
from rigbook.walk.wires import Wire, Wires


def check(ready: Trial) -> None:
    """Every fault in every play, both ways."""
    for fault in faults(ready.rig, ready.wires):
        for i, play in enumerate(ready.plays):
            base = ready.states[i]
            new = differing(ready.changed(i, fault.change).new, base)
            got = {n: s for n, s in {**base, **new}.items() if s}
            assert got == planned(ready.wires, play, fault.change), (fault.key, play.key)


@settings(max_examples=6, deadline=None)
@given(rigs(most_buses=3))
def test_from_the_change_on_is_the_same_as_from_the_start(random: RandomRig) -> None:
    check(trial(rig_of(random.text)))


def test_the_same_for_the_first_of_a_row_of_rigs() -> None:
    for number in range(6):
        check(trial(rig_of(seeded(number, most_buses=3).text)))


def diamond() -> Wires:
    """0 -> 1 -> 2 -> 4 and 0 -> 1 -> 3 -> 4 -> 5: everything passes 1 and 4."""
    wires = (Wire(0, 1), Wire(1, 2), Wire(1, 3), Wire(2, 4), Wire(3, 4), Wire(4, 5))
    into = tuple(tuple(i for i, w in enumerate(wires) if w.head == n) for n in range(6))
    out = tuple(tuple(i for i, w in enumerate(wires) if w.tail == n) for n in range(6))
    names = tuple("abcdef")
    edges = tuple((names[w.tail], names[w.head], 0) for w in wires)
    numbers = {e: i for i, e in enumerate(edges)}
    return Wires(names, {n: i for i, n in enumerate(names)}, wires, edges, numbers, into, out, (0, 1, 2, 3, 4, 5))


def test_a_cone_is_what_hears_of_nothing_else() -> None:
    wires = diamond()
    states = dict.fromkeys(range(6), FULL)
    fed = {n: list(wires.into[n]) for n in range(1, 6)}
    cones = Cones.of(wires, states, fed, frozenset((0,)))
    assert set(cones.silent(1).states) == {1, 2, 3, 4, 5}
    assert cones.silent(1).heads == ()
    # one of two ways: where they meet the other is still heard
    assert set(cones.silent(2).states) == {2}
    assert cones.silent(2).heads == (4,)
    assert set(cones.silent(4).states.values()) == {SILENCE}
    assert cones.turned(4).states == {4: turned(FULL), 5: turned(FULL)}


def test_two_equal_parts_are_six_decibels_and_opposite_ones_are_gone() -> None:
    """20 log10 2 = 6.02."""
    part = (0.0, False, 0.0, ())
    assert joined([part, part]) == ((6.021, False, 0.0, ()),)
    assert joined([part, (0.0, True, 0.0, ())]) == ()
    assert len(joined([part, (0.0, False, 0.004, ())])) == 2, "what comes later is heard beside it"


def test_a_closed_fader_passes_what_is_taken_before_it() -> None:
    (ready,) = [trial(rig_of(seeded(1).text))]
    down = next(p for p in ready.plays if p.down == "bus")
    tail = next(iter(down.opened))
    assert through(Wire(tail, 0, gate="bus", pick="post"), down, FULL) == SILENCE
    assert through(Wire(tail, 0, gate="bus", pick="pre"), down, FULL) == FULL
    assert through(Wire(tail, 0, gain=-6.0, flip=True), down, FULL) == ((-6.0, True, 0.0, ()),)


def test_a_cut_of_the_only_way_is_silence_beyond() -> None:
    ready = trial(rig_of(seeded(1).text))
    i = next(i for i, p in enumerate(ready.plays) if p.kind == "leg" and not p.down)
    number = next(n for n in range(len(ready.wires.wires)) if ready.wires.wires[n].tail in ready.plays[i].starts)
    found = ready.changed(i, cut(number))
    assert found.silent == (ready.wires.wires[number].head,)
    assert not any(found.new.values())
