"""Line check: each input in the order of the list, what to do at it, where it must be heard, what stays."""

from __future__ import annotations

import pytest
from hypothesis import given, settings

from helpers.random_rigs import RandomRig, rigs
from helpers.sites import shows
from helpers.walk_rigs import rig_at, rig_of
from rigbook.graph.rig import Rig
from rigbook.walk.line_check import Line, line_check
from rigbook.walk.suspects import next_probe, suspects
from rigbook.walk.table import FADER, HEAR, Seen, Table


@pytest.fixture(scope="module")
def rig() -> Rig:
    (show,) = [p for p in shows() if p.stem == "reel-night"]
    return rig_at(show)


def lines(rig: Rig) -> dict[str, Line]:
    return {line.key: line for line in line_check(rig)}


def test_in_the_order_of_the_list(rig: Rig) -> None:
    numbers = [line.channel.number for line in line_check(rig)]
    assert numbers == sorted(numbers)
    assert {line.channel.number for line in line_check(rig)} == {c.number for c in rig.plan.channels}


def test_where_an_input_is_heard_and_what_stays(rig: Rig) -> None:
    """By the plan: the kick goes to main, subs and, before its fader, to the drummer's wedge."""
    kick = lines(rig)["line-1"]
    assert set(kick.heard) == {"top-left", "top-right", "sub-left", "sub-right", "wedge-4"}
    assert kick.pre == ("wedge-4",)
    assert (kick.socket, kick.do) == ("box/in 1", "tap it, then speak or play")


def test_each_side_of_a_stereo_source_alone(rig: Rig) -> None:
    made = lines(rig)
    left, right = made["line-23-left"], made["line-23-right"]
    assert (left.socket, right.socket) == ("desk/line 15", "desk/line 16")
    assert "top-left" in left.heard and "top-right" not in left.heard
    assert left.do == "play something, left side only"


def test_phantom_power_is_said(rig: Rig) -> None:
    made = lines(rig)
    assert made["line-3"].phantom and not made["line-1"].phantom


@settings(max_examples=15, deadline=None)
@given(rigs())
def test_every_lead_and_send_is_exercised(random: RandomRig) -> None:
    rig = rig_of(random.text)
    covered = {edge for line in line_check(rig) for edge in line.covers}
    wanted = {e for e in rig.graph.edges(keys=True) if rig.graph.edges[e]["kind"] in ("plug", "listen", "send")}
    assert {e for e in wanted if rig.graph.nodes[e[0]]["kind"] != "bus"} <= covered


def test_phantom_power_off_is_found_by_the_same_means(rig: Rig) -> None:
    """The condenser is silent everywhere; its neighbour is not."""
    table = Table.of(rig)
    line = lines(rig)["line-3"]
    left = suspects(table, {Seen(HEAR, line.key, box): "silent" for box in line.heard})
    kinds = {r.fault.kind for s in left for r in s.rows}
    assert {"phantom power off", "open lead", "source silent", "input not patched"} <= kinds
    assert not any(r.behind for s in left[:1] for r in s.rows)


def test_a_send_before_the_fader_shows_when_the_fader_goes_down(rig: Rig) -> None:
    table = Table.of(rig)
    answers = {Seen(HEAR, "line-1", b): "" for b in lines(rig)["line-1"].heard}
    left = suspects(table, answers | {Seen(FADER, "line-1", "wedge-4"): "silent"})
    rows = [r for s in left for r in s.rows]
    # what lies behind the desk was found good before; what it would do to its own box here the table does not say
    assert [r.fault.kind for r in rows if not r.behind] == ["send pick-off wrong"]
    assert all("wedge-4" in r.touched for r in rows)


def test_hum_comes_by_the_shield_or_by_two_earths(rig: Rig) -> None:
    """Common practice: a new lead, the ground lift of the DI, then one outlet for source and desk tell them apart."""
    table = Table.of(rig)
    bass = lines(rig)["line-4"]
    wrong = {Seen(HEAR, "line-4", box): "hums" for box in bass.heard}
    left = suspects(table, wrong)
    assert {r.fault.kind for s in left for r in s.rows} == {"shield with a bad contact", "earth loop"}
    assert len(left) == 3
    asked = []
    while test := next_probe(table, left, wrong):
        asked.append(test.seen.subject)
        wrong[test.seen] = "right" if test.seen.subject.startswith("mains|") else ""
        left = suspects(table, wrong)
        if wrong[test.seen]:
            break
    assert asked[0] == "lift|box/in 4", "the nearest first"
    (last,) = left
    assert "by the mains of the source" in last.rows[0].fault.words
    assert "every protective earth stays connected" in last.rows[0].fault.check
    # a voice has neither DI nor mains: its lead alone
    (only,) = suspects(table, {Seen(HEAR, "line-15", box): "hums" for box in lines(rig)["line-15"].heard})
    assert only.rows[0].fault.key == "shield lead|box/in 15"
    # of a fader that is down it is asked what falls silent, not how it sounds
    assert not [s for r in table.rows for s, v in r.effects.items() if v == "hums" and s.kind != HEAR]


def test_the_cable_of_a_cabled_source_may_hum_and_nothing_behind_the_desk() -> None:
    (show,) = [p for p in shows() if p.stem == "lessons-and-songs"]
    rows = [r for r in Table.of(rig_at(show)).rows if r.fault.kind == "shield with a bad contact"]
    cables = {r.fault.key for r in rows if "cable|" in r.fault.key}
    assert any("rx-lapel/" in key for key in cables)
    assert not any("column" in key or "pillar" in key for key in cables)
