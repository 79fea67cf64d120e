"""What a person types about a walk test is read, or what to write instead is said; each message whole."""

from __future__ import annotations

import pytest

from helpers.sites import shows
from helpers.walk_rigs import rig_at
from rigbook.walk.answers import LOOKS, Unclear, outcome_words, read_heard, read_seen, seen_text
from rigbook.walk.say import probe_words, value_words
from rigbook.walk.table import EXCHANGE, FADER, HEAR, LIGHT, PAIR, Seen, Table


@pytest.fixture(scope="module")
def table() -> Table:
    (show,) = [p for p in shows() if p.stem == "reel-night"]
    return Table.of(rig_at(show))


def test_boxes_heard_are_all_that_sounds(table: Table) -> None:
    got = read_heard(table, "main-left: top-right")
    assert isinstance(got, dict)
    assert {s.subject: v for s, v in got.items() if v} == {"top-left": "silent", "top-right": "sounds"}
    assert {s.subject for s in got} == set(table.rig.boxes)


def test_a_word_behind_a_box_says_how_it_sounds(table: Table) -> None:
    got = read_heard(table, "subs: sub-left, sub-right dull")
    assert isinstance(got, dict)
    assert {s.subject: v for s, v in got.items() if v} == {"sub-right": "dull"}


@pytest.mark.parametrize("text", ["subs: nothing", "subs: silence"])
def test_nothing(table: Table, text: str) -> None:
    got = read_heard(table, text)
    assert isinstance(got, dict)
    assert {s.subject for s, v in got.items() if v == "silent"} == {"sub-left", "sub-right"}


def test_as_expected_holds_for_pairs_as_well(table: Table) -> None:
    got = read_heard(table, "together: as expected")
    assert isinstance(got, dict)
    assert not any(got.values())
    assert Seen(PAIR, "together", "top-left|top-right") in got


def test_a_pair_either_way_round(table: Table) -> None:
    pair = "top-left|top-right"
    assert read_heard(table, "together: top-left and top-right hollow") == {Seen(PAIR, "together", pair): "hollow"}
    assert read_heard(table, "together: top-right and top-left first-a") == {Seen(PAIR, "together", pair): "first-b"}


def test_boxes_that_go_on_with_the_fader_down(table: Table) -> None:
    got = read_heard(table, "main-left fader: top-left")
    assert got == {Seen(FADER, "main-left", "top-left"): "sounds"}
    assert read_heard(table, "main-left fader: nothing") == {Seen(FADER, "main-left", "top-left"): ""}


@pytest.mark.parametrize(
    ("text", "message", "remedy"),
    [
        ("main left", "`main left` names no step", "write the step, a colon and the boxes: `main-left: top-left`"),
        ("main-lef: top-left", "there is no step `main-lef`", "write `main-left`"),
        ("main-left: top-lft", "there is no box `top-lft` in this step", "write `top-left`"),
        (
            "main-left: top-left odd",
            "`odd` does not say how `top-left` sounds",
            "write one of `silent`, `quiet`, `loud`, `thin`, `boomy`, `dull`, `bright`, `hums`",
        ),
        (
            "main-left: top-left and top-right hollow",
            "`top-left` and `top-right` are not compared in `main-left`",
            "pairs are none",
        ),
        (
            "together: top-left and top-right odd",
            "`top-left and top-right odd` does not say what is heard between them",
            "write one of `hollow`, `first-a`, `first-b`",
        ),
    ],
)
def test_what_cannot_be_read(table: Table, text: str, message: str, remedy: str) -> None:
    assert read_heard(table, text) == Unclear(message, remedy)


def test_every_test_can_be_typed_as_it_is_printed(table: Table) -> None:
    """`diagnose` prints how an outcome is typed; that is read back as the same outcome."""
    done = set()
    for row in table.testable:
        for seen, value in row.effects.items():
            if seen.kind not in (*LOOKS, EXCHANGE, LIGHT):
                continue
            for outcome in (value, ""):
                typed = seen_text(table, seen, outcome).removeprefix("--seen '").removesuffix("'")
                assert read_seen(table, typed) == {seen: outcome}, typed
                done.add(seen.kind)
    assert done == {*LOOKS, EXCHANGE, LIGHT}


def test_what_is_no_test(table: Table) -> None:
    assert read_seen(table, "setting output mian: exchanged") == Unclear(
        "`setting output mian` is no test of this rig", "use the words of the test that is proposed"
    )
    assert read_seen(table, "setting output main left: odd") == Unclear(
        "`odd` is not what `setting output main left` can show",
        "write one of `exchanged`, `not patched`, `pick-off wrong`, `polarity wrong`, `as expected`",
    )
    assert read_seen(table, "main-left: box/out 7 off") == Unclear(
        "`box/out 7 off` is no signal light",
        "write the socket, channel or bus and `lit` or `dark`: `box/out 7 dark`",
    )


def test_a_light_says_what_it_shows_as_planned(table: Table) -> None:
    seen = Seen(LIGHT, "main-left", "box/out 7")
    assert outcome_words(table, seen, "") == "lit"
    assert outcome_words(table, seen, "dark") == "dark"
    assert outcome_words(table, Seen(LIGHT, "main-left", "box/out 8"), "") == "dark"


def test_orders_are_whole_sentences(table: Table) -> None:
    """Every thing to hear or see in the rig has one."""
    for seen in table.showing:
        order = probe_words(table.rig, seen, "main left alone")
        assert order[0].isupper() and order.endswith("."), order
        assert "{" not in order and "|" not in order, order
    assert probe_words(table.rig, Seen(HEAR, "x", "top-left"), "x") == "Play “x”. Listen at top-left."
    cable = Seen("replace", "", "cable|box/out 7 -> amp-tops/in A")
    assert probe_words(table.rig, cable, "") == (
        "Mute it, put a known good cable in place of box/out 7 -> amp-tops/in A, then listen again."
    )


def test_outcomes_in_words(table: Table) -> None:
    for row in table.testable:
        for seen, value in row.effects.items():
            words = value_words(seen, value)
            assert words and "|" not in words and "{" not in words, (seen, value)
    assert value_words(Seen(PAIR, "x", "a|b"), "first-b") == "the sound comes from b"
    assert value_words(Seen("setting", "", "front|amp"), "muted|out A") == "out A is off or muted"
    assert value_words(Seen("plugs", "", "cable|x"), "") == "as their labels say"
