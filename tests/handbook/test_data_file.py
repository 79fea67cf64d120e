"""The file of all results: its description and the file say the same; who gets which; the same bytes each time."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

import pytest

from helpers.tools import ROOT
from rigbook.handbook import data_file
from rigbook.handbook.book import Book
from rigbook.handbook.make import make
from rigbook.handbook.themes import find_theme
from rigbook.pipeline import compile_plan

DOC = (ROOT / "compiler" / "docs" / "data.md").read_text("utf-8")
DESCRIBED = dict(re.findall(r"^\| `([^`]+)` \| ([^|]+?) \|", DOC.partition("## The document")[2], re.M))
NAMES = {int: "whole", float: "number", str: "text", bool: "yes/no", type(None): "null"}
EVERYTHING = """\
plan: 1
show: Everything
units:
  pa: {kind: powered-top-12, stand: speaker-stand}
  rx-1, rx-2, rx-3: radio-receiver
  odd: mystery
  big: distribution-63a-three-phase
  small: distribution-32a-three-phase
wiring: {three-phase: [big/through -> small/supply]}
radio:
  bands: [606 MHz - 614 MHz]
  channels:
    rx-1: {frequency: 607 MHz}
    rx-2: {frequency: 608 MHz}
    rx-3: {frequency: 609 MHz}
    rx-4: {frequency: 609.1 MHz}
power: {supplies: {house: {}}, circuits: {stage: {supply: house, rating: 16 A, feeds: [pa, odd]}}}
kinds:
  mystery: {is: processor, title: odd one, ports: {mains: {connector: mains-inlet, level: mains, direction: in}}}
  three-phase:
    {is: cable, title: feeder, ends: [three-phase-outlet, three-phase-inlet], carries: mains, cores: 5, area: 4 mm2}
"""
SHOWS = sorted((ROOT / "shows").glob("*/*.yaml"))


def leaves(node: Any, path: str = "") -> list[tuple[str, str]]:
    """Every path of a document with the type of what stands there."""
    if isinstance(node, dict):
        if "formula" in node:
            return [(path, f"figure, {node['unit']}" if node["unit"] else "figure")]
        if set(node) == {"missing"}:
            return [(path, "missing")]
        return [leaf for key, value in node.items() for leaf in leaves(value, f"{path}.{key}" if path else key)]
    if isinstance(node, list):
        return [leaf for value in node for leaf in leaves(value, f"{path}[]")]
    return [(path, NAMES[type(node)])]


@pytest.fixture(scope="module")
def seen(tmp_path_factory: pytest.TempPathFactory) -> dict[str, set[str]]:
    """Paths and types over all shows and a plan with what they lack."""
    extra = tmp_path_factory.mktemp("data") / "plan.yaml"
    extra.write_text(EVERYTHING, "utf-8")
    out: dict[str, set[str]] = {}
    for path in (*SHOWS, extra):
        for leaf, kind in leaves(json.loads(data_file.data_file(Book.of(compile_plan(path), "crew")))):
            out.setdefault(leaf, set()).add(kind)
    return out


def _fits(kind: str, described: str) -> bool:
    """`figure, dB` fits `figure, dB or dB(A)`; a number without its unit fits `number, m`."""
    if kind == "missing":
        return described.startswith("figure")
    parts = re.split(r" or |, ", described)
    return all(part in parts for part in kind.split(", "))


def test_every_key_of_the_file_is_described(seen: dict[str, set[str]]) -> None:
    assert sorted(set(seen) - set(DESCRIBED)) == []


def test_every_described_key_is_in_the_file(seen: dict[str, set[str]]) -> None:
    assert sorted(set(DESCRIBED) - set(seen)) == []


def test_types_and_units_are_as_described(seen: dict[str, set[str]]) -> None:
    wrong = [f"{leaf}: {kind}, described as {DESCRIBED[leaf]}" for leaf, kinds in seen.items() for kind in sorted(kinds)
             if leaf in DESCRIBED and not _fits(kind, DESCRIBED[leaf])]
    assert wrong == []


def test_a_figure_is_described_as_it_is(hall) -> None:
    first = data_file.document(Book.of(hall, "crew"))["amplifiers"][0]["load"]
    table = DOC.partition("## Figures")[2].partition("##")[0]
    assert re.findall(r"^\| `(\w+)` \|", table, re.M) == list(first)


def test_the_public_has_no_such_file_and_guests_no_findings(hall) -> None:
    theme = find_theme("plain")
    crew, guest, public = (make(hall, view, theme, with_data=True) for view in ("crew", "guest", "public"))
    assert data_file.NAME not in public
    assert "findings" in json.loads(crew[data_file.NAME])
    assert set(json.loads(crew[data_file.NAME])) - set(json.loads(guest[data_file.NAME])) == {"findings"}
    assert all(b"data.json" in files["index.html"] for files in (crew, guest))
    assert not any(b"data.json" in data for data in public.values())


def test_the_same_bytes_twice_and_none_unasked(hall, tmp_path: Path) -> None:
    again = compile_plan(ROOT / "shows" / "rural-hall" / "reel-night.yaml")
    first, second = (make(c, "crew", find_theme("plain"), with_data=True) for c in (hall, again))
    assert first == second
    assert data_file.NAME not in make(hall, "crew", find_theme("plain"))


def test_numbers_have_nine_digits(hall) -> None:
    text = data_file.data_file(Book.of(hall, "crew")).decode()
    numbers = re.findall(r"^ *(?:\"\w+\": )?(-?[\d.]+(?:e-?\d+)?),?$", text, re.M)
    assert len(numbers) > 1000
    assert [n for n in numbers if len(re.sub(r"[.-]|e.*", "", n).strip("0")) > 9] == []
