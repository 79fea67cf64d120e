"""`rigbook explain` of checks, kinds of gear and families, and of names that are none."""

from __future__ import annotations

import pytest

from rigbook.cli import main
from rigbook.plan.gear import Gear


@pytest.mark.parametrize("words", [["amplifier-2x500"], ["gear", "amplifier-2x500"]])
def test_a_kind_shows_its_sockets_and_figures(words: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["explain", *words]) == 0
    lines = [" ".join(line.split()) for line in capsys.readouterr().out.splitlines()]
    assert lines[:2] == ["amplifier-2x500 (amplifier)", "amplifier, generic, 2 x 500 W at 8 ohm"]
    assert "out A-B speaker-4-pole, speaker, out" in lines
    assert "power 8 ohm: 500 W; 4 ohm: 800 W" in lines
    assert "minimum-load 4 ohm" in lines
    assert "Draw at 1/8 and full power holds with every channel at 4 ohm." in lines


def test_every_kind_of_the_library_is_shown(capsys: pytest.CaptureFixture[str]) -> None:
    for name in Gear({}).shipped:
        assert main(["explain", "gear", name]) == 0
        lines = capsys.readouterr().out.splitlines()
        assert lines[0].startswith(name + " (")
        assert max(map(len, lines)) <= 100


@pytest.mark.parametrize("words", [["amplifier"], ["gear", "amplifier"]])
def test_a_family_lists_its_kinds(words: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["explain", *words]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert len(lines) > 3
    assert all(line.startswith("amplifier ") for line in lines)


@pytest.mark.parametrize(
    ("words", "meant"),
    [
        (["silent-speeker"], "`silent-speaker`"),
        (["amplifier-2x50"], "`amplifier-2x500`"),
        (["gear", "amplfier"], "`amplifier`"),
        (["gear", "top12"], "`top-12`"),
        (["silent-speaker", "top-12"], "`rigbook explain silent-speaker`"),
    ],
)
def test_an_unknown_name_gets_a_near_one(words: list[str], meant: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["explain", *words]) == 2
    assert meant in capsys.readouterr().err
