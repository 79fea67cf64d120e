"""Records of walk tests: several of one day make one walk, in whatever order they lie there; files beside the plan."""

from __future__ import annotations

from itertools import permutations
from pathlib import Path

import pytest

from rigbook.pipeline import Compiled, compile_plan
from rigbook.walk.prints import fingerprints, rig_print
from rigbook.walk.record import (
    CHANGED,
    NOT_WALKED,
    WRONG,
    Walk,
    last_walk,
    parse_rig,
    record_text,
    rig_text,
    stale_steps,
)

PLAN = """\
plan: 1
show: Two tops
units: {desk: desk-16, left: {kind: powered-top-12, side: left}, right: {kind: powered-top-12, side: right}}
inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main}}
buses: {main: {stereo: yes}}
outputs: {main left: desk/out 1, main right: desk/out 2}
wiring: {xlr: ["desk/out 1 -> left/in, 5 m", "desk/out 2 -> right/in, 5 m"]}
"""
STEPS = ("main-left", "main-right", "together")
GOOD = dict.fromkeys(STEPS, "as expected")


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / ".git").mkdir()
    (tmp_path / "plan.yaml").write_text(PLAN, "utf-8")
    return tmp_path


def compiled(folder: Path, *records: str, plan: str = PLAN) -> Compiled:
    """The plan with records beside it, in this order of their names."""
    for old in folder.glob("plan.walk-*"):
        old.unlink()
    (folder / "plan.yaml").write_text(plan, "utf-8")
    for i, text in enumerate(records):
        (folder / f"plan.walk-{i}.yaml").write_text(text, "utf-8")
    return compile_plan(folder / "plan.yaml")


def walk_of(got: Compiled) -> Walk:
    walk = last_walk(got.rig)
    assert walk is not None
    return walk


def said(got: Compiled) -> dict[str, str]:
    return {w.step: w.said for w in walk_of(got).words}


@pytest.fixture
def prints(folder: Path) -> dict[str, str]:
    return fingerprints(compile_plan(folder / "plan.yaml").rig)


def test_a_record_beside_the_plan_is_read_and_clean(folder: Path, prints: dict[str, str]) -> None:
    got = compiled(folder, record_text("2027-01-10", "Ada", prints, GOOD, "Left rattles.", "18:20"))
    assert got.findings == ()
    walk = walk_of(got)
    assert (walk.date, walk.by, said(got)) == ("2027-01-10", ("Ada",), GOOD)
    assert [str(r.get("text").text) for r in walk.notes] == ["Left rattles."]
    assert stale_steps(got.rig) == ()


def test_a_record_checks_by_itself(folder: Path, prints: dict[str, str]) -> None:
    compiled(folder, record_text("2027-01-10", "Ada", prints, GOOD))
    assert compile_plan(folder / "plan.walk-0.yaml").findings == ()


def test_a_fault_in_a_record_has_its_place(folder: Path, prints: dict[str, str]) -> None:
    text = record_text("2027-01-10", "Ada", prints, GOOD, time="25:20")
    (found,) = compiled(folder, text).findings
    assert "25:20" in found.message
    assert found.primary.span.file == "plan.walk-0.yaml"


@pytest.mark.parametrize("text", [
    "", "7", "plan: 1\nwalk-tests: 7\n", "plan: 1\nwalk-tests: [7, {by: Ada}]\n",
    "plan: 1\nwalk-tests: [{date: 2027-01-10, rig: ':::: a: b:c:d', heard: {main-left: '', none: [1]}}]\n",
    "plan: 1\nbuilds-on: plan.yaml\nwalk-tests: []\n", "\0", "plan: 1\nwalk-tests: [{date: 2027-01-10",
])
def test_a_broken_record_is_a_finding_in_its_file_and_nothing_worse(folder: Path, text: str) -> None:
    got = compiled(folder, text)
    assert got.findings
    assert {f.primary.span.file for f in got.findings} == {"plan.walk-0.yaml"}
    assert isinstance(stale_steps(got.rig), tuple)


def test_only_files_of_the_repository_are_records(folder: Path, tmp_path_factory: pytest.TempPathFactory) -> None:
    away = tmp_path_factory.mktemp("away") / "record.yaml"
    away.write_text("plan: 1\nwalk-tests: [{date: 2027-01-10, heard: {main-left: silent}}]\n", "utf-8")
    (folder / "plan.walk-out.yaml").symlink_to(away)
    (folder / "plan.walk-dir.yaml").mkdir()
    got = compile_plan(folder / "plan.yaml")
    assert got.findings == ()
    assert last_walk(got.rig) is None


def test_another_show_of_the_folder_does_not_read_it(folder: Path, prints: dict[str, str]) -> None:
    compiled(folder, record_text("2027-01-10", "Ada", prints, GOOD))
    (folder / "planetary.yaml").write_text(PLAN, "utf-8")
    assert last_walk(compile_plan(folder / "planetary.yaml").rig) is None


def test_two_phones_make_one_walk(folder: Path, prints: dict[str, str]) -> None:
    one = record_text("2027-01-10", "Ada", prints, {"main-left": "as expected"}, time="18:20")
    two = record_text("2027-01-10", "Tobin", prints, {"main-right": "as expected", "together": "hollow"}, time="18:25")
    for pair in permutations((one, two)):
        got = compiled(folder, *pair)
        assert said(got) == {"main-left": "as expected", "main-right": "as expected", "together": "hollow"}
        assert walk_of(got).by == ("Ada", "Tobin")


@pytest.mark.parametrize(("records", "counts"), [
    # of one person the latest word
    ([("Ada", "18:20", "silent"), ("Ada", "18:40", "as expected")], "as expected"),
    ([("Ada", "18:20", "as expected"), ("Ada", "18:40", "silent")], "silent"),
    # of several people the one that heard something wrong, be it the earlier one
    ([("Ada", "18:20", "silent"), ("Tobin", "18:40", "as expected")], "silent"),
    ([("Ada", "18:20", "silent"), ("Tobin", "18:40", "as expected"), ("Ada", "18:50", "as expected")], "as expected"),
    # without a time, or at the same time, what was wrong counts
    ([("Ada", "", "as expected"), ("Ada", "", "silent")], "silent"),
    ([("Ada", "", "silent"), ("Ada", "18:40", "as expected")], "as expected"),
    ([("Tobin", "18:40", "thin"), ("Ada", "18:40", "silent")], "silent"),
])
def test_which_word_counts(
    folder: Path, prints: dict[str, str], records: list[tuple[str, str, str]], counts: str
) -> None:
    texts = [record_text("2027-01-10", by, prints, {"main-left": s}, time=time) for by, time, s in records]
    for order in permutations(texts):
        assert said(compiled(folder, *order)) == {"main-left": counts}


def test_after_a_change_only_what_changed_is_asked_and_the_rest_holds(folder: Path, prints: dict[str, str]) -> None:
    first = record_text("2027-01-10", "Ada", prints, GOOD)
    plan = PLAN.replace("desk/out 2 -> right/in, 5 m", "desk/out 2 -> right/in, 10 m")
    got = compiled(folder, first, plan=plan)
    assert [(s.key, s.why) for s in stale_steps(got.rig)] == [("main-right", CHANGED), ("together", CHANGED)]
    (found,) = got.findings
    assert (found.check, found.objects) == ("stale-walk-test", frozenset({"main-right", "together"}))
    # the next day those two are walked; the first step keeps what was heard the day before
    again = record_text("2027-01-11", "Ada", fingerprints(got.rig), dict.fromkeys(STEPS[1:], "as expected"))
    after = compiled(folder, first, again, plan=plan)
    assert stale_steps(after.rig) == ()
    assert walk_of(after).date == "2027-01-11"


def test_a_word_on_the_step_as_it_is_counts_over_one_on_the_step_as_it_was(
    folder: Path, prints: dict[str, str]
) -> None:
    """The plan was mended in the afternoon: what was heard at noon speaks of another rig."""
    noon = record_text("2027-01-10", "Ada", {"main-left": "000000"}, {"main-left": "silent"}, time="12:00")
    later = record_text("2027-01-10", "Tobin", prints, GOOD, time="16:00")
    for pair in permutations((noon, later)):
        assert stale_steps(compiled(folder, *pair).rig) == ()


def test_why_a_step_is_asked_again(folder: Path, prints: dict[str, str]) -> None:
    heard = {"main-left": "as expected", "main-right": "right silent"}
    got = compiled(folder, record_text("2027-01-10", "Ada", {**prints, "main-left": "000000"}, heard))
    assert [(s.key, s.why, s.said) for s in stale_steps(got.rig)] == [
        ("main-left", CHANGED, ""), ("main-right", WRONG, "right silent"), ("together", NOT_WALKED, "")]


def test_lines_are_asked_once_a_record_speaks_of_any(folder: Path, prints: dict[str, str]) -> None:
    got = compiled(folder, record_text("2027-01-10", "Ada", {**prints, "line-1": "000000"}, {**GOOD, "line-1": "ok"}))
    assert [s.key for s in stale_steps(got.rig)] == ["line-1"]


def test_one_fingerprint_for_the_whole_rig_is_read_too(folder: Path, prints: dict[str, str]) -> None:
    rig = rig_print(prints)
    by_hand = PLAN + f"walk-tests: [{{date: 2027-01-10, rig: '{rig}', heard: {{main-left: as expected}}}}]\n"
    assert [s.key for s in stale_steps(compiled(folder, plan=by_hand).rig)] == ["main-right", "together"]
    other = compiled(folder, plan=by_hand.replace(rig, "000000"))
    assert [s.why for s in stale_steps(other.rig)] == [CHANGED, NOT_WALKED, NOT_WALKED]


def test_records_without_a_rig_are_shown_and_not_judged(folder: Path) -> None:
    got = compiled(folder, plan=PLAN + "walk-tests: [{date: 2027-01-10, heard: {main-left: silent}}]\n")
    assert stale_steps(got.rig) == ()
    assert not walk_of(got).known
    assert said(got) == {"main-left": "silent"}


def test_fingerprints_go_out_and_come_back(prints: dict[str, str]) -> None:
    assert parse_rig(rig_text(prints)) == prints
    assert len(set(prints.values())) == len(prints)
