"""`rigbook signals`: files that can be played, the list beside them, and what cannot be done."""

from __future__ import annotations

import wave
from pathlib import Path

import pytest

from rigbook.cli import main


def test_files_and_their_list(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    main(["new", str(tmp_path / "plan")])
    out = tmp_path / "signals"
    assert main(["signals", str(tmp_path / "plan"), "--out", str(out)]) == 0
    assert "damage hearing" in capsys.readouterr().out
    text = (out / "README.txt").read_text("utf-8")
    for path in out.glob("*.wav"):
        with wave.open(str(path)) as file:
            assert (file.getframerate(), file.getsampwidth()) == (48_000, 3)
            assert file.getnchannels() in (1, 2)
        assert path.name in text
    assert "for the steps of the plan" in text
    assert len(list(out.glob("*.wav"))) == 11


def test_cannot_write(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "file").write_text("")
    assert main(["signals", "--out", str(tmp_path / "file")]) == 2
    assert "cannot be written" in capsys.readouterr().err
    assert main(["signals", str(tmp_path / "none"), "--out", str(tmp_path / "s")]) == 2
    assert not (tmp_path / "s").exists()
