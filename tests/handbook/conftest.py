"""Books and sites of small plans, and of the shipped shows."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from helpers.tools import ROOT
from rigbook.checks.compiled import Compiled
from rigbook.handbook.book import Book
from rigbook.pipeline import compile_plan

HALL = ROOT / "shows" / "rural-hall" / "reel-night.yaml"

SMALL = """\
plan: 1
show: Trial & <error>
date: 2027-02-06
units:
  desk: desk-16
  box: {kind: stage-box-16, serial: KEEP-4711, text: Keep the secret, for: guest}
  amp: {kind: amplifier-2x500, text: Crew only knob}
  top-left: {kind: top-12, at: 4 m left 1 m out 2 m up}
  top-right: {kind: top-12, at: 4 m right 1 m out 2 m up}
  wedge: powered-wedge-12
inputs:
  1: {name: Fiddle, from: box/in 5, mic: condenser-clip, phantom: yes, low-cut: 120 Hz, to: [main, mix -6 dB post]}
  2: {name: Keys, from: desk/line 3+4, line: keyboard, to: [main left, mix off]}
buses:
  main: {stereo: yes, low-cut: 100 Hz lr 24 dB/oct}
  mix: {monitor-for: Fiddle}
outputs:
  main left: box/out 1
  main right: box/out 2
  mix: box/out 3
wiring:
  network: ["desk/net A -> box/net A, 30 m"]
  xlr: ["box/out 1 -> amp/in A, 2 m, label W7", "box/out 2 -> amp/in B, 2 m", "box/out 3 -> wedge/in, 10 m"]
  speaker-2.5-mm2: ["amp/out A -> top-left, 15 m", "amp/out B -> top-right"]
"""


@pytest.fixture
def compiled(tmp_path: Path) -> Callable[..., Compiled]:
    """Compiles a plan given as text, with other files beside it."""

    def make(text: str = SMALL, **files: bytes) -> Compiled:
        (tmp_path / ".git").mkdir(exist_ok=True)
        (tmp_path / "plan.yaml").write_text(text, "utf-8")
        for name, data in files.items():
            (tmp_path / name.replace("__", ".")).write_bytes(data)
        return compile_plan(tmp_path / "plan.yaml")

    return make


@pytest.fixture
def book(compiled: Callable[..., Compiled]) -> Callable[..., Book]:
    """The book of a plan given as text, for a view."""

    def make(text: str = SMALL, view: str = "crew", **files: bytes) -> Book:
        return Book.of(compiled(text, **files), view)

    return make


@pytest.fixture(scope="session")
def hall() -> Compiled:
    """The village hall's reel night."""
    return compile_plan(HALL)
