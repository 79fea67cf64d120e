"""Composition: what a show builds on, adds and changes; what it may not."""

from __future__ import annotations

from pathlib import Path

import pytest

from helpers.random_rigs import KINDS
from rigbook.pipeline import Compiled, compile_plan

HOUSE = (
    KINDS.replace("show: Random rig", "venue: Barn")
    + """\
units:
  desk: desk
  box: box
  amp: amp
  left, right: top
buses: {main: {stereo: yes}, mix-1: {monitor-for: Fiddle}}
outputs: {main left: box/out 1, main right: box/out 2}
wiring:
  net-cable: ["desk/net A -> box/net A, 30 m"]
  line-cable:
    - box/out 1 -> amp/in A
    - box/out 2 -> amp/in B
  spk-cable:
    - amp/out A -> left, 9 m
    - amp/out B -> right, 9 m
"""
)
SHOW = "plan: 1\nshow: Supper\nbuilds-on: house.yaml\ninputs: {1: {name: Fiddle, from: box/in 1, mic: mic, to: main}}\n"


def compiled(folder: Path, **files: str) -> Compiled:
    """Compile `show` among the files given."""
    for name, text in files.items():
        (folder / f"{name}.yaml").write_text(text)
    return compile_plan(folder / "show.yaml", folder)


def names(got: Compiled) -> list[str]:
    """Names of the findings of reading and composing."""
    quiet = {"silent-speaker", "idle-bus", "orphan-bus", "unused-gear"}
    return [f.check for f in got.findings if f.check not in quiet and f.severity > 1]


def test_a_show_stands_on_its_house(tmp_path: Path) -> None:
    got = compiled(tmp_path, house=HOUSE, show=SHOW)
    assert got.plan is not None and got.plan.title == "Supper" and got.plan.venue == "Barn"
    assert got.plan.files == ("show.yaml", "house.yaml")
    assert got.rig is not None and got.rig.origins_of("left")


def test_a_change_unsaid_names_both_places(tmp_path: Path) -> None:
    got = compiled(tmp_path, house=HOUSE, show=SHOW + "outputs: {main left: box/out 5}\n")
    (finding,) = [f for f in got.findings if f.check == "change-unsaid"]
    assert finding.primary.span.file == "show.yaml"
    assert finding.secondary[0].span.file == "house.yaml"


def test_a_change_said_is_applied_and_remembered(tmp_path: Path) -> None:
    show = (
        SHOW + "changes:\n  Socket 1 is worn:\n    outputs: {main left: box/out 5}\n    remove: box/out 1 -> amp/in A\n"
    )
    show += "    wiring: {line-cable: [box/out 5 -> amp/in A]}\n"
    got = compiled(tmp_path, house=HOUSE, show=show)
    assert names(got) == []
    assert got.plan is not None and got.rig is not None
    assert got.rig.origins_of("left")
    said = {(c.reason, c.what, c.before) for c in got.plan.changes}
    assert ("Socket 1 is worn", "output main left", "socket: box/out 1") in said


LONGER = "amp/out A -> left, 15 m"


@pytest.mark.parametrize("remove", ["", "remove: amp/out A -> left, ", "remove: amp/out A -> left/in, "])
def test_a_change_lays_a_longer_cable_between_the_same_ends(tmp_path: Path, remove: str) -> None:
    show = SHOW + f'changes: {{The hall is wider: {{{remove}wiring: {{spk-cable: ["{LONGER}, label W9"]}}}}}}\n'
    got = compiled(tmp_path, house=HOUSE, show=show)
    assert names(got) == []
    assert got.plan is not None
    (cable,) = [c for c in got.plan.cables if c.end.unit == "left"]
    assert (cable.length and cable.length.value, cable.label, cable.origin) == (15, "W9", "show.yaml")
    said = {(c.what, c.before, c.after) for c in got.plan.changes}
    if remove:
        assert said == {(f"cable {cable.name}", "in the house rig", "taken out"), (f"cable {cable.name}", "", "added")}
    else:
        assert said == {(f"cable {cable.name}", "spk-cable, 9 m", "spk-cable, 15 m, label W9")}


def test_a_chain_is_replaced_hop_by_hop(tmp_path: Path) -> None:
    house = HOUSE.replace("amp/out A -> left, 9 m", "amp/out A -> left -> right, 9 m").replace(
        "    - amp/out B -> right, 9 m\n", "")  # fmt: skip
    show = SHOW + 'changes: {Wider: {wiring: {spk-cable: ["amp/out A -> left -> right, 15 m"]}}}\n'
    got = compiled(tmp_path, house=house, show=show)
    assert got.plan is not None
    lengths = [c.length.value for c in got.plan.cables if c.kind_name == "spk-cable" and c.length]
    assert lengths == [15, 15]
    assert [c.before for c in got.plan.changes] == ["spk-cable, 9 m", "spk-cable, 9 m"]


def test_what_a_changed_cable_does_not_say_stays(tmp_path: Path) -> None:
    show = SHOW + 'changes: {Marked: {wiring: {spk-cable: ["amp/out A -> left, label W9"]}}}\n'
    got = compiled(tmp_path, house=HOUSE, show=show)
    assert got.plan is not None
    (cable,) = [c for c in got.plan.cables if c.end.unit == "left"]
    assert cable.length is not None and cable.length.value == 9


def test_remove_takes_out_what_the_house_has_not_what_the_show_brings(tmp_path: Path) -> None:
    show = SHOW + f'changes: {{Wider: {{remove: amp/out A -> left}}}}\nwiring: {{spk-cable: ["{LONGER}"]}}\n'
    got = compiled(tmp_path, house=HOUSE, show=show)
    assert names(got) == []
    again = 'changes: {Another: {remove: left, units: {left: top}, wiring: {spk-cable: ["amp/out A -> left, 15 m"]}}}\n'
    got = compiled(tmp_path, house=HOUSE, show=SHOW + again)
    assert names(got) == []
    assert got.rig is not None and got.rig.origins_of("left")


def test_a_house_cable_laid_anew_unsaid_shows_the_line_that_says_it(tmp_path: Path) -> None:
    got = compiled(tmp_path, house=HOUSE, show=SHOW + f'wiring: {{spk-cable: ["{LONGER}"]}}\n')
    assert names(got) == ["change-unsaid"]
    (finding,) = [f for f in got.findings if f.check == "change-unsaid"]
    assert finding.secondary[0].span.file == "house.yaml"
    fix = finding.remedy.partition("heading: ")[2].strip("`")
    assert names(compiled(tmp_path, house=HOUSE, show=SHOW + fix + "\n")) == []


def test_removing_a_unit_takes_its_cables(tmp_path: Path) -> None:
    got = compiled(tmp_path, house=HOUSE, show=SHOW + "changes: {No room: {remove: right}}\n")
    assert got.plan is not None
    assert "right" not in got.plan.units
    assert not [c for c in got.plan.cables if "right" in (c.start.unit, c.end.unit)]


@pytest.mark.parametrize(
    ("line", "check"),
    [
        ("builds-on: ../../elsewhere.yaml", "path-outside"),
        ("builds-on: /etc/passwd", "path-outside"),
        ("builds-on: hause.yaml", "missing-file"),
        ("builds-on: show.yaml", "builds-on-ring"),
    ],
)
def test_paths_stay_inside(tmp_path: Path, line: str, check: str) -> None:
    got = compiled(tmp_path, house=HOUSE, show=SHOW.replace("builds-on: house.yaml", line))
    assert check in [f.check for f in got.findings]


def test_several_bases_combine(tmp_path: Path) -> None:
    extra = "plan: 1\nlibrary: Ours\nkinds: {our-top: {is: speaker, title: our top, box: top}}\n"
    got = compiled(tmp_path, house=HOUSE, ours=extra, show=SHOW.replace("house.yaml", "[house.yaml, ours.yaml]"))
    assert names(got) == []


def test_a_near_name_is_read_as_what_was_meant(tmp_path: Path) -> None:
    got = compiled(tmp_path, house=HOUSE.replace("-> left, 9 m", "-> lefft, 9 m"), show=SHOW)
    assert [f.check for f in got.findings if f.severity > 2] == ["unknown-name"]
    assert got.rig is not None and got.rig.origins_of("left")


BAND = HOUSE + "inputs: {2: {name: Drum, from: box/in 2, mic: mic, to: [main, mix-1]}}\n"


@pytest.mark.parametrize(
    "gone",
    [
        "[left, amp/out A -> left, mix-1]",
        "[amp/out A -> left, left, mix-1]",
        "[amp, left, right, main, mix-1, box/out 1-2 -> amp/in A-B]",
        "[amp, left, right, bus main, output main left, mix-1]",
    ],
)
def test_what_goes_with_a_thing_may_be_named_besides(tmp_path: Path, gone: str) -> None:
    """A unit goes with its cables, a bus with its outputs and the sends to it: nobody is told that they are missing."""
    show = f"plan: 1\nshow: Supper\nbuilds-on: house.yaml\nchanges:\n  Less:\n    remove: {gone}\n"
    got = compiled(tmp_path, house=BAND, show=show)
    assert [f.message for f in got.findings if f.check == "unknown-name"] == []
    assert got.plan is not None and ("desk", "mix-1") not in got.plan.buses
    assert all(send.bus != "mix-1" for channel in got.plan.channels for send in channel.sends)


def test_a_run_of_cables_is_taken_out_as_it_is_written(tmp_path: Path) -> None:
    show = SHOW + "changes:\n  Less:\n    remove: [box/out 1-2 -> amp/in A-B]\n"
    got = compiled(tmp_path, house=HOUSE, show=show)
    assert got.plan is not None and [c.end.unit for c in got.plan.cables] == ["box", "left", "right"]


def test_what_cannot_be_taken_out_is_marked_by_itself(tmp_path: Path) -> None:
    show = SHOW + "changes:\n  Less:\n    remove: [left, rihgt]\n"
    got = compiled(tmp_path, house=HOUSE, show=show)
    (finding,) = [f for f in got.findings if f.check == "unknown-name"]
    assert finding.remedy == "write `right`" and finding.primary.span.human() == "show.yaml:7:20"
