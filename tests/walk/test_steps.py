"""Steps: one leg after another with everything else silent, then together what must add; nothing is left out.

Source: common practice of a line and walk test (one output at a time, then sides, then tops with subs).
"""

from __future__ import annotations

import pytest
from hypothesis import given, settings

from helpers.random_rigs import RandomRig, rigs
from helpers.sites import shows
from helpers.walk_rigs import rig_at, rig_of
from rigbook.graph.rig import Rig
from rigbook.walk.controls import playback
from rigbook.walk.standing import mix_position, walking_order
from rigbook.walk.step import Step
from rigbook.walk.steps import gaps, steps


def show(stem: str) -> Rig:
    (path,) = [p for p in shows() if p.stem == stem]
    return rig_at(path)


def by_key(rig: Rig) -> dict[str, Step]:
    return {s.key: s for s in steps(rig)}


@settings(max_examples=20, deadline=None)
@given(rigs())
def test_every_connection_is_exercised(random: RandomRig) -> None:
    """Cables, links, sockets, amplifier channels and speakers are edges and nodes of the graph."""
    rig = rig_of(random.text)
    assert gaps(rig) == ()
    heard = {e.end for s in steps(rig) if s.kind == "leg" for e in s.expect}
    assert set(rig.boxes) <= heard


@pytest.mark.parametrize("path", shows(), ids=lambda p: p.stem)
def test_every_connection_of_a_show_is_exercised(path: object) -> None:
    assert gaps(rig_at(path)) == ()  # type: ignore[arg-type]


@settings(max_examples=20, deadline=None)
@given(rigs())
def test_a_step_says_of_every_box_what_it_must_do(random: RandomRig) -> None:
    rig = rig_of(random.text)
    made = steps(rig)
    assert len({s.key for s in made}) == len(made)
    for step in made:
        sound = [e.end for e in step.expect]
        assert sorted({*sound, *step.silent} & set(rig.boxes)) == sorted(rig.boxes)
        assert not {*sound} & {*step.silent}
        assert all(p.a in sound and p.b in sound for p in step.pairs)


def test_the_steps_of_a_small_hall() -> None:
    rig = show("reel-night")
    made = by_key(rig)
    assert list(made) == ["main-left", "main-right", "subs", "mix-3", "mix-1", "mix-4", "mix-2", "together"]
    left = made["main-left"]
    assert [e.end for e in left.expect] == ["top-left"]
    assert {"top-right", "sub-left", "wedge-1"} <= {*left.silent}
    assert left.expect[0].how == "full and clear above 100 Hz, no deep bass"
    assert (left.pan, left.fader, left.signal_key) == ("hard left", "silent", "pink")
    assert made["subs"].signal_key == "low"


@pytest.mark.parametrize("name", [p.stem for p in shows()])
def test_the_walk_begins_with_the_left_of_two_sides(name: str) -> None:
    """As everybody counts them (common practice), also where the right is nearer to the mix position."""
    first: dict[str, str] = {}
    for step in by_key(show(name)).values():
        if step.kind == "leg" and step.bus and step.leg in ("left", "right"):
            first.setdefault(f"{step.bus.role} {step.desk}", step.leg)
    assert set(first.values()) <= {"left"}


def test_what_plays_the_same_is_heard_together() -> None:
    """Nobody hears the polarity of one box alone: sides with sides, tops with subs."""
    pairs = {frozenset((p.a, p.b)) for p in by_key(show("reel-night"))["together"].pairs}
    assert pairs == {
        frozenset(("top-left", "top-right")),
        frozenset(("top-left", "sub-left")),
        frozenset(("top-right", "sub-right")),
    }


def test_a_step_says_how_the_desk_is_set() -> None:
    rig = show("reel-night")
    channel = playback(rig, "desk")
    assert channel is not None and channel.kind_of_source == "playback"
    words = [(str(c.words), str(c.setting)) for c in by_key(rig)["main-left"].controls]
    assert words[0][0] == f"channel {channel.number} {channel.name}"
    assert words[0][1].startswith("fader at −40 dB to begin with")
    assert words[-1] == ("every other channel", "muted")
    assert any(setting == "muted" and "subs" in name for name, setting in words)


def test_the_walk_goes_on_to_the_nearest() -> None:
    assert walking_order([(0.0, 9.0), (0.0, 1.0), None, (0.0, 2.0)], (0.0, 0.0)) == (1, 3, 0, 2)
    assert walking_order([(1.0, 0.0), (-1.0, 0.0)], (0.0, 0.0)) == (1, 0), "of equals the one further left"
    assert isinstance(mix_position(show("reel-night")), tuple)


def test_many_other_buses_are_not_named_one_by_one() -> None:
    from rigbook.walk.controls import MOST_NAMED

    def muted(buses: int) -> set[str]:
        names = [f"mix-{i}" for i in range(1, buses + 1)]
        text = "plan: 1\nshow: Many\nkinds:\n  big: {is: desk, title: big, channels: 8, buses: 90, ports: {"
        text += "line 1-8: {connector: xlr-female, level: mic or line, direction: in}, "
        text += "out 1-90: {connector: xlr-male, level: line, direction: out}}}\nunits: {desk: big, rec: recorder-2}\n"
        text += "buses:\n" + "".join(f"  {n}: {{role: record}}\n" for n in names)
        text += "outputs:\n" + "".join(f"  {n}: desk/out {i}\n" for i, n in enumerate(names, 1))
        text += "wiring:\n  xlr: [desk/out 1 -> rec/in 1, desk/out 2 -> rec/in 2]\n"
        found = steps(rig_of(text))
        assert found
        return {str(c.words) for s in found for c in s.controls if c.setting == "muted" and "bus" in c.words}

    assert all(word.startswith("every other bus: ") for word in muted(MOST_NAMED + 1))
    assert muted(MOST_NAMED + 2) == {"every other bus"}


def test_a_bus_with_an_insert_is_played_through_it() -> None:
    """Noise through a compressor tells nothing of the boxes, so it is set not to act (common practice)."""
    made = by_key(show("lessons-and-songs"))
    for key in ("main", "rear"):
        (setting,) = [c.setting for c in made[key].controls if c.words == "insert of main"]
        assert "leveller" in setting and "does not act" in setting
    cables = {edge[:2] for edge in made["main"].covers}
    assert {("desk/out 7", "leveller/in A"), ("leveller/out A", "desk/line 12")} <= cables
