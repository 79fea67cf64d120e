"""A change says only what changes; what it changes and the change together must be complete."""

from __future__ import annotations

from pathlib import Path

import pytest

from rigbook.pipeline import Compiled, compile_plan

HOUSE = """\
plan: 1
venue: Barn
units: {desk: desk-16, wedge: {kind: powered-wedge-12, at: 1 m left}}
power:
  supplies: {house: {rating: 63 A}}
  circuits: {stage: {supply: house, rating: 16 A, feeds: wedge}, rear: {supply: house, rating: 10 A, feeds: desk}}
"""


def compiled(folder: Path, changes: str) -> Compiled:
    """A show that changes the house."""
    (folder / "house.yaml").write_text(HOUSE)
    (folder / "show.yaml").write_text(
        f"plan: 1\nshow: Supper\nbuilds-on: house.yaml\nchanges: {{Why: {{{changes}}}}}\n"
    )
    return compile_plan(folder / "show.yaml", folder)


def test_a_change_keeps_what_it_does_not_say(tmp_path: Path) -> None:
    got = compiled(tmp_path, "units: {wedge: {at: 2 m right}}, power: {circuits: {rear: {rating: 16 A}}}")
    assert [f for f in got.findings if f.check == "missing-key"] == []
    assert got.plan is not None
    wedge = got.plan.units["wedge"]
    assert wedge.family == "powered speaker" and wedge.position is not None and wedge.position.x == 2
    stage, rear = (e.value for e in got.plan.sections["power"].get("circuits"))
    assert (stage.get("rating").value, rear.get("rating").value, rear.get("feeds")) == (16, 16, ("desk",))
    changed = {c.what: (c.before, c.after) for c in got.plan.changes}
    assert changed["unit wedge"] == ("at: 1 m left", "at: 2 m right")


@pytest.mark.parametrize(
    ("changes", "message"),
    [
        ("units: {player: {at: 1 m out}}", "this unit has no `kind`"),
        ("inputs: {3: {from: desk/line 3}}", "this channel has no `name`"),
        ("power: {circuits: {front: {supply: house}}}", "this circuit has no `rating`"),
    ],
)
def test_a_new_item_in_a_change_says_all_it_must(tmp_path: Path, changes: str, message: str) -> None:
    got = compiled(tmp_path, changes)
    assert [f.message for f in got.findings if f.check == "missing-key"] == [message]
