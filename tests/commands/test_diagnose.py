"""`rigbook diagnose`: suspects, the test to make next, and what it says of what cannot be read."""

from __future__ import annotations

import pytest

from helpers.sites import shows
from rigbook.cli import main

(SHOW,) = [str(p) for p in shows() if p.stem == "reel-night"]


def test_without_answers_it_lists_the_steps(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["diagnose", SHOW]) == 0
    out = capsys.readouterr().out
    assert "  main-left: top-left\n" in out
    assert "  line-1: top-left, top-right, sub-left, sub-right, wedge-4\n" in out


def test_swapped_tops(capsys: pytest.CaptureFixture[str]) -> None:
    heard = ["--heard", "main-right: top-left", "--heard", "main-left: top-right"]
    assert main(["diagnose", SHOW, *heard]) == 0
    out = capsys.readouterr().out
    assert out.startswith("3 things fit, the nearest and likeliest to check first\n")
    assert "the cables `amp-tops/out A -> top-left/in` and `amp-tops/out B -> top-right/in` are exchanged" in out
    assert "next   " in out
    # what is printed can be typed back
    (typed,) = [ln.strip() for ln in out.splitlines() if ln.strip().startswith("--seen") and "exchanged" in ln][:1]
    assert main(["diagnose", SHOW, *heard, "--seen", typed.removeprefix("--seen '").removesuffix("'")]) == 0
    assert capsys.readouterr().out.startswith("one thing fits\n")


def test_two_faults_at_once(capsys: pytest.CaptureFixture[str]) -> None:
    heard = [
        "--heard", "main-left: nothing", "--heard", "main-right: top-right", "--heard", "mix-2: nothing",
        "--heard", "mix-1: wedge-1", "--heard", "subs: sub-left, sub-right", "--heard", "mix-3: wedge-3",
    ]  # fmt: skip
    assert main(["diagnose", SHOW, *heard]) == 0
    out = capsys.readouterr().out
    assert out.startswith("no single fault fits, ")
    assert "   and " in out


def test_nothing_wrong(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["diagnose", SHOW, "--heard", "main-left: as expected"]) == 0
    assert capsys.readouterr().out == "nothing is wrong: everything was as it must be\n"


def test_what_cannot_be_read(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["diagnose", SHOW, "--heard", "main-lef: top-left"]) == 2
    assert capsys.readouterr().err == "there is no step `main-lef`, write `main-left`\n"


def test_not_sure_asks_for_another_test(capsys: pytest.CaptureFixture[str]) -> None:
    heard = ["diagnose", SHOW, "--heard", "main-left: nothing"]
    assert main(heard) == 0
    first = next(x for x in capsys.readouterr().out.splitlines() if x.startswith("next"))
    assert first == "next   Look at the front of amp-tops: power, mute, level, mode."
    assert main([*heard, "--seen", "setting front amp-tops: not sure"]) == 0
    out = capsys.readouterr().out
    assert any(x.startswith("next") for x in out.splitlines()) and first not in out
    assert main([*heard, "--seen", "main-left: amp-tops/in A not sure"]) == 0


def test_what_lies_behind_the_desk_comes_after_what_the_line_check_tells(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["diagnose", SHOW, "--heard", "line-1: top-left, top-right, sub-left, sub-right"]) == 0
    out = capsys.readouterr().out
    assert out.index("1. the send of `channel 1 Kick` to `mix-4` is closed") < out.index("behind the desk, where")
