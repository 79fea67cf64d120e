"""The commands as typed: new, check, build, trace, explain, schema, and their exit codes. `common` finds the plan."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from rigbook.cli import main


def test_new_check_build(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    folder = tmp_path / "first"
    assert main(["new", str(folder)]) == 0
    assert main(["new", str(folder)]) == 2
    assert main(["check", str(folder), "--fail-on", "note"]) == 0
    assert main(["build", str(folder), "--out", str(tmp_path / "site")]) == 0
    assert (tmp_path / "site/index.html").is_file()
    capsys.readouterr()


def test_a_fault_gives_one_and_a_place(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    main(["new", str(tmp_path)])
    plan = tmp_path / "plan.yaml"
    plan.write_text(plan.read_text().replace("-> wedge/in", "-> wegde/in"))
    capsys.readouterr()
    assert main(["check", str(plan)]) == 1
    out = capsys.readouterr().out
    assert "there is no unit `wegde`" in out
    assert "write `wedge`" in out
    main(["check", str(plan), "--format", "json"])
    assert "unknown-name" in json.dumps(json.loads(capsys.readouterr().out))


@pytest.mark.parametrize("data", [b"\x00\xff", b"", b"hello\n", b"- a\n", b'plan: 1\nshow: "x\n', b"# nothing yet\n"])
def test_what_is_no_plan_leaves_the_last_good_site(
    data: bytes, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    main(["new", str(tmp_path / "barn")])
    plan, site = tmp_path / "barn/plan.yaml", tmp_path / "site"
    assert main(["build", str(plan), "--out", str(site)]) == 0
    before = {p: p.read_bytes() for p in site.rglob("*") if p.is_file()}
    plan.write_bytes(data)
    assert main(["check", str(plan)]) == 2
    assert main(["build", str(plan), "--out", str(site)]) == 2
    assert "no plan: 1 error" in capsys.readouterr().out
    assert {p: p.read_bytes() for p in site.rglob("*") if p.is_file()} == before


def test_cannot_run(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", str(tmp_path / "none")]) == 2
    assert main(["check", str(tmp_path)]) == 2
    assert main(["explain", "silent-speeker"]) == 2
    assert "silent-speaker" in capsys.readouterr().err


WIRELESS = """\
plan: 1
show: Wireless
units: {desk: desk-16, rx: radio-receiver, top: powered-top-12}
inputs: {1: {name: Talk, from: desk/line 1, source: speech, to: main}}
buses: {main: {}}
outputs: {main: desk/out 1}
wiring: {xlr: ["rx/out -> desk/line 1, 2 m", "desk/out 1 -> top, 5 m"]}
power: {supplies: {house: {}}, circuits: {left: {supply: house, rating: 16 A, feeds: [desk, top]}}}
radio: {channels: {rx: {frequency: 606.5 MHz, transmitter: radio-handheld}}}
"""


def test_trace_begins_at_the_transmitter_and_knows_circuits(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    plan = tmp_path / "plan.yaml"
    plan.write_text(WIRELESS)
    for name in ("channel 1", "rx"):
        assert main(["trace", str(plan), name]) == 0
        lines = capsys.readouterr().out.splitlines()
        at = lines.index("      -> rx/out    [by radio, 606.5 MHz]")
        assert "handheld" in lines[at - 1]
    for name in ("left", "circuit left"):
        assert main(["trace", str(plan), name]) == 0
        out = capsys.readouterr().out
        assert "supply house, 16 A" in out
        assert "feeds: 2 devices" in out
        assert "    top (" in out
    assert main(["trace", str(plan), "right"]) == 2


def test_trace_of_a_supply_names_its_circuits(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    plan = tmp_path / "plan.yaml"
    plan.write_text(WIRELESS)
    for name in ("house", "supply house"):
        assert main(["trace", str(plan), name]) == 0
        out = capsys.readouterr().out
        assert out.startswith("supply house ")
        assert "feeds: 1 circuit\n" in out and "      feeds: 2 devices" in out


def test_trace_explain_schema(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    main(["new", str(tmp_path)])
    assert main(["trace", str(tmp_path), "wedge"]) == 0
    assert "bus mix-1" in capsys.readouterr().out
    assert main(["explain"]) == 0
    assert main(["schema"]) == 0


def test_diagnose_names_suspects(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    main(["new", str(tmp_path)])
    capsys.readouterr()
    assert main(["diagnose", str(tmp_path), "--heard", "mix-1: wedge silent"]) in (0, 1)
    out = capsys.readouterr().out
    assert "wedge" in out


def test_several_plans_share_the_findings_of_their_house(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "house.yaml").write_text("plan: 1\nvenue: Barn\nunits: {desk: desk-61}\n")
    for name in ("one", "two"):
        (tmp_path / f"{name}.yaml").write_text(f"plan: 1\nshow: {name}\nbuilds-on: house.yaml\n")
    plans = [str(tmp_path / f"{name}.yaml") for name in ("one", "two")]
    assert main(["check", *plans]) == 1
    assert capsys.readouterr().out.count("desk-61") >= 2
    assert main(["check", *plans, "--format", "json"]) == 1
    assert json.loads(capsys.readouterr().out)["counts"]["errors"] == 1
    assert main(["check", *plans, str(tmp_path / "none.yaml"), "--format", "json"]) == 2
    assert json.loads(capsys.readouterr().out)["counts"]["errors"] == 1
