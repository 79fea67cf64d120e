"""A slip of the fingers in a good plan is one finding, or none where it is within a title: never two.

In a few words of each show a letter is left out; with `--slow` in every word. Another word is put in the place of a key
or value likewise: what could not be read is told, and nothing that hangs on it.
"""

from __future__ import annotations

import random
import re
import shutil
from pathlib import Path

import pytest

from helpers.check_pages import printed
from helpers.tools import ROOT
from rigbook.pipeline import compile_plan

SHOWS = ("chapel/lessons-and-songs.yaml", "rural-hall/reel-night.yaml", "rural-hall/parish-revue.yaml")
WORD = re.compile(r"[A-Za-z][A-Za-z0-9-]{2,}")
SLIPS = (
    ("rural-hall/house.yaml", "{stereo: yes", "{steeo: yes"),
    ("rural-hall/house.yaml", "{stereo: yes", "{stereo: ys"),
    ("rural-hall/house.yaml", "{stereo: yes", "{stereo: three"),
    ("rural-hall/house.yaml", "{role: effects", "{role: effcts"),
    ("rural-hall/house.yaml", "feeds: desk", "feeds: dsk"),
    ("rural-hall/house.yaml", "feeds: desk", "feeds: console"),
    ("rural-hall/house.yaml", "{supply: house", "{supply: hose"),
    ("rural-hall/house.yaml", "{supply: house", "{supply: kitchen"),
    ("rural-hall/house.yaml", "wedge-3: {kind", "wede-3: {kind"),
    ("rural-hall/house.yaml", "  mix-1: {role", "  mi-1: {role"),
    ("rural-hall/house.yaml", "  box: {kind", "  stage-rack-box: {kind"),
    ("rural-hall/house.yaml", "desk/net A -> box/net A", "desk/net A -> bx/net A"),
    ("rural-hall/house.yaml", "desk/net A -> box/net A", "desk/net A -> island/net A"),
    ("rural-hall/house.yaml", "amp-subs/out A -> sub-left", "amplifier-7/out A -> sub-left"),
    ("rural-hall/house.yaml", "sub-left: {kind: sub-18", "sub-left: {kind: cabinet-q"),
    ("rural-hall/house.yaml", "at: 2.8 m left", "at: 2.8 m beside"),
    ("rural-hall/house.yaml", "xlr: {lengths", "xlr: {pieces"),
    ("rural-hall/house.yaml", "main left: box/out 7", "main left: desk.3"),
    ("rural-hall/house.yaml", "  desk: {kind", "  - desk: {kind"),
    ("rural-hall/house.yaml", "limiter: +3 dBu", "ceiling: +3 dBu"),
    ("rural-hall/reel-night.yaml", "mic: dynamic-kick", "mc: dynamic-kick"),
    ("rural-hall/reel-night.yaml", "mic: dynamic-kick", "capsule: dynamic-kick"),
    ("rural-hall/reel-night.yaml", "phantom: yes, source: drums", "power: yes, source: drums"),
    ("rural-hall/reel-night.yaml", "desk/line 15+16", "desk/lie 15+16"),
    ("rural-hall/reel-night.yaml", "builds-on: house", "buils-on: house"),
    ("rural-hall/reel-night.yaml", "builds-on: house", "stands: house"),
    ("rural-hall/reel-night.yaml", "places:", "corners:"),
    ("chapel/lessons-and-songs.yaml", "plugged: walls/stage 1,", "pluged: walls/stage 1,"),
    ("chapel/lessons-and-songs.yaml", "kind: tie-line-16", "kind: panels-of-ours"),
    ("chapel/lessons-and-songs.yaml", "monitor-for: Choir", "monitr-for: Choir"),
    ("chapel/lessons-and-songs.yaml", "lifts: 2", "lits: 2"),
    ("rural-hall/house.yaml", "top-left: {kind: top-12", "top-left: {kind: top-120"),
    ("rural-hall/house.yaml", "4 m left 0.6 m out", "40 m left 0.6 m out"),
    ("rural-hall/house.yaml", "mix-position: 13 m out 2 m right", "mix-position: 13 m out 20 m right"),
    ("rural-hall/house.yaml", "5: vent 1 U", "5: vent 10 U"),
    ("chapel/lessons-and-songs.yaml", "aim: 20 deg left", "aim: 200 deg left"),
    ("chapel/lessons-and-songs.yaml", "at: 4 m left, 9.6 m out, 2.8 m up", "at: 40 m left, 9.6 m out, 2.8 m up"),
)


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A copy of all shows, to be mistyped."""
    copy = tmp_path_factory.mktemp("slips")
    shutil.copytree(ROOT / "shows", copy / "shows")
    return copy


@pytest.mark.parametrize(("file", "good", "slip"), SLIPS, ids=lambda text: text)
def test_a_slip_is_one_message(file: str, good: str, slip: str, folder: Path) -> None:
    text = (folder / "shows" / file).read_text("utf-8")
    assert good in text
    assert _told(folder, file, text.replace(good, slip, 1)) == 1


@pytest.mark.parametrize("show", SHOWS)
def test_a_letter_left_out_is_at_most_one_message(show: str, folder: Path, subtests: pytest.Subtests) -> None:
    _leave_out(show, folder, subtests, 12)


@pytest.mark.slow
@pytest.mark.parametrize("show", SHOWS)
def test_any_letter_left_out_is_at_most_one_message(show: str, folder: Path, subtests: pytest.Subtests) -> None:
    _leave_out(show, folder, subtests, 0)


def _leave_out(show: str, folder: Path, subtests: pytest.Subtests, few: int) -> None:
    text = (folder / "shows" / show).read_text("utf-8")
    found = [m for m in WORD.finditer(text) if not _in_words(text, m.start())]
    for m in random.Random(show).sample(found, few) if few else found:
        middle = m.start() + len(m[0]) // 2
        with subtests.test(f"{m[0]} at {text.count(chr(10), 0, m.start()) + 1}"):
            assert _told(folder, show, text[:middle] + text[middle + 1 :]) <= 1


def _in_words(text: str, at: int) -> bool:
    """True within a comment or a text, whose words the language does not read."""
    line = text[text.rfind("\n", 0, at) + 1 : at]
    return line.lstrip().startswith(("#", "-")) or "text:" in line


def _told(folder: Path, file: str, text: str) -> int:
    """How much is found in the show that a file belongs to, with this text in the file's place."""
    path = folder / "shows" / file
    show = path.with_name("reel-night.yaml") if path.stem == "house" else path
    before = path.read_text("utf-8")
    try:
        path.write_text(text, "utf-8")
        got = compile_plan(show, folder)
    finally:
        path.write_text(before, "utf-8")
    if len(got.findings) > 1:
        print(printed(got))
    return len(got.findings)
