"""Manifest, icons and worker: named files are there, addresses stay within the folder, a new build has a new name."""

from __future__ import annotations

import io
import json
import re

import pytest

from helpers.tools import ROOT
from rigbook.handbook.installable import GRID, MANIFEST, MARK, MARK_BARS, WORKER, png, version
from rigbook.handbook.make import make
from rigbook.handbook.themes import find_theme


@pytest.fixture(scope="module")
def files(hall) -> dict[str, bytes]:
    return make(hall, "crew", find_theme("plain"))


def test_the_manifest_names_files_of_the_folder(files: dict[str, bytes]) -> None:
    """W3C Web Application Manifest: members `name`, `icons`, `start_url`, `scope`, `display`."""
    manifest = json.loads(files[MANIFEST])
    assert manifest["name"] == "Winter reel night"
    assert manifest["display"] == "standalone"
    assert {i["src"] for i in manifest["icons"]} <= set(files)
    assert {i["purpose"] for i in manifest["icons"]} == {"any", "maskable"}
    assert manifest["start_url"].partition("#")[0] in files
    addresses = [manifest["start_url"], manifest["scope"], *(i["src"] for i in manifest["icons"])]
    assert not [a for a in addresses if a.startswith("/") or ":" in a], "it may be served from a sub-folder"


def test_colours_are_those_of_the_theme(hall, files: dict[str, bytes]) -> None:
    tokens = re.findall(r"--paper: (#\w+)", (ROOT / "themes/plain/static/tokens.css").read_text("utf-8"))
    assert json.loads(files[MANIFEST])["background_color"] == tokens[0]
    dark = make(hall, "crew", find_theme("dark-stage"))
    own = re.findall(r"--paper: (#\w+)", dark["static/tokens.css"].decode())
    assert json.loads(dark[MANIFEST])["background_color"] == own[-1]


def test_the_worker_holds_every_other_file(files: dict[str, bytes]) -> None:
    (listed,) = re.findall(r"FILES = (\[.*\]);", files[WORKER].decode())
    assert set(json.loads(listed)) == set(files) - {WORKER}


def test_a_new_build_has_a_new_name(hall, files: dict[str, bytes]) -> None:
    assert make(hall, "crew", find_theme("plain"))[WORKER] == files[WORKER], "the same files, the same name"
    other = {**files, "index.html": files["index.html"] + b" "}
    renamed = {("b.html" if n == "index.html" else n): d for n, d in files.items()}
    assert len({version(files), version(other), version(renamed)}) == 3


@pytest.mark.parametrize("size", [192, 512])
def test_icons_are_pictures_of_the_mark(size: int) -> None:
    """Read by another library (Pillow); the mark lies within the safe zone of maskable icons: a circle of radius 40 %
    (W3C Manifest, Icon masks).
    """
    image = pytest.importorskip("PIL.Image").open(io.BytesIO(png(size))).convert("RGB")
    assert image.size == (size, size)
    assert len(image.getcolors()) == 2
    bar = MARK_BARS[0]
    at = int((bar.x + bar.width / 2) * size / GRID), int((bar.y + bar.height / 2) * size / GRID)
    assert image.getpixel(at) == (0xFD, 0xFC, 0xF9)
    assert image.getpixel((1, 1)) == (0x15, 0x18, 0x1C)
    for b in MARK_BARS:
        corners = [(x, y) for x in (b.x, b.x + b.width) for y in (b.y, b.y + b.height)]
        assert all((x - 12) ** 2 + (y - 12) ** 2 <= (0.4 * GRID) ** 2 for x, y in corners), b


def test_the_public_gets_the_mark_alone(hall) -> None:
    public = make(hall, "public", find_theme("plain"))
    assert MARK in public
    assert not {MANIFEST, WORKER, "icons/mark-192.png"} & set(public)
    assert b"data-installable" not in public["index.html"]
