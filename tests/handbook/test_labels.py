"""Labels: both ends of every cable, strips at the pitch of the panel, codes that a reader of another make reads."""

from __future__ import annotations

import re

import numpy as np
import pytest
import zxingcpp
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from helpers.tools import ROOT
from rigbook.compute.label_stock import label_stock
from rigbook.graph.codes import bare
from rigbook.handbook.book import Book
from rigbook.handbook.label_sheets import FINEST_MM, Labels, fit
from rigbook.handbook.make import make
from rigbook.handbook.pages.labels import Sheets, page
from rigbook.handbook.qr import QUIET, code
from rigbook.handbook.strips import strips
from rigbook.handbook.themes import find_theme
from rigbook.pipeline import compile_plan

ADDRESS = "https://example.org/hall"


def picture(svg: str, scale: int = 4) -> np.ndarray:
    """A code as pixels, from what is drawn: its runs of dark modules on white."""
    side = int(re.search(r'viewBox="0 0 (\d+)', svg)[1])
    out = np.full((side, side), 255, dtype=np.uint8)
    for x, y, n in re.findall(r"M(\d+) (\d+)h(\d+)v1h-\d+z", svg):
        out[int(y), int(x):int(x) + int(n)] = 0
    return np.kron(out, np.ones((scale, scale), dtype=np.uint8))


def read(svg: str) -> str:
    """What a code says, by a reader that shares nothing with the writer."""
    (found,) = zxingcpp.read_barcodes(picture(svg))
    assert str(found.format).lower().replace("barcodeformat.", "").replace(" ", "") in ("qrcode", "qrcodemodel2")
    return found.text


@settings(max_examples=40, deadline=None)
@given(text=st.text(st.characters(min_codepoint=32, max_codepoint=0x2FF), min_size=1, max_size=90))
def test_codes_are_read_back(text: str) -> None:
    """ISO/IEC 18004, by zxing-cpp."""
    assert read(code(text).svg) == text


def test_the_quiet_zone_is_four_modules_wide() -> None:
    """ISO/IEC 18004: four modules on each side; the smallest symbol has 21."""
    made = code("S4K-D7M")
    pixels = picture(made.svg, 1)
    assert QUIET == 4 and made.modules == 21 + 8 == len(pixels)
    dark = np.argwhere(pixels == 0)
    assert dark.min() == 4 and dark.max() == len(pixels) - 5


@pytest.fixture
def data(book) -> Sheets:
    return page(book()).data


def every(data: Sheets) -> list:
    return [label for sheet in data.sheets for label in sheet if label]


def test_both_ends_of_every_cable(book, data: Sheets) -> None:
    """F501.01:2015 (from memory): the same identifier at both ends, unique to the cable."""
    made: Book = book()
    for sheath, lines in made.sheaths.items():
        name = made.codes[sheath]
        mine = [label for label in every(data) if label.head == name]
        assert len(mine) == 2
        (here, far), (there, back) = ([line.text for line in label.lines] for label in mine)
        assert (here, far) == (back, there)
        assert here.startswith(lines[0].start.unit) and far.startswith(lines[0].end.unit)
    assert len(set(made.codes.values())) == len(made.codes)


def test_leads_units_and_amplifier_channels(data: Sheets) -> None:
    by_head: dict[str, list] = {}
    for label in every(data):
        by_head.setdefault(label.head, []).append([line.text for line in label.lines])
    assert by_head["Ch 1"] == [["Fiddle", "box/in 5"], ["box/in 5", "Fiddle"]]
    assert by_head["amp A"] == [["box/out 1", "top-left/in"]]
    assert {"desk", "box", "amp", "wedge"} <= by_head.keys()


def test_a_code_leads_to_a_line_of_the_published_handbook(compiled) -> None:
    text = f"plan: 1\nshow: P\npublished: {ADDRESS}/\nunits: {{desk: desk-16, top: powered-top-12}}\n" \
           "wiring: {xlr: [desk/out 1 -> top/in]}\n"
    got = compiled(text)
    made = Book.of(got, "crew")
    (sheath,) = made.sheaths
    maker = Labels(made, label_stock(made.plan))
    (cable, _) = maker.cable(made.sheaths[sheath])
    address = read(cable.qr)
    assert address == f"{ADDRESS}/patch.html#{bare(made.codes[sheath])}"
    files = make(got, "guest", find_theme("plain"))
    assert f'id="{address.partition("#")[2]}"' in files["patch.html"].decode()
    unit = read(maker.unit(made.plan.units["top"]).qr)
    assert unit == f"{ADDRESS}/patch.html#unit-top" and 'id="unit-top"' in files["patch.html"].decode()


def test_without_an_address_a_code_says_the_short_code(book, data: Sheets) -> None:
    names = set(book().codes.values())
    assert {read(label.qr) for label in every(data) if label.head in names} == names
    assert not data.published


def test_on_a_label_too_small_for_the_address_a_code_says_the_short_code(book) -> None:
    """29 modules of 0.45 mm; the address would take 37 of 0.35 mm or more of less."""
    made = book(f"plan: 1\nshow: P\npublished: {ADDRESS}/and/a/long/way/to/it\nunits: {{desk: desk-16}}\n"
                "labels: {size: 38.1 x 21.2 mm}\n")
    maker = Labels(made, label_stock(made.plan))
    assert read(maker.unit(made.plan.units["desk"]).qr) == "desk"


def test_the_address_is_in_no_other_view(compiled) -> None:
    from rigbook.handbook.make import make

    got = compiled(f"plan: 1\nshow: P\npublished: {ADDRESS}\nunits: {{desk: desk-16}}\n")
    for view in ("guest", "public"):
        files = make(got, view, find_theme("plain"))
        assert "labels.html" not in files
        assert not [name for name, held in files.items() if ADDRESS.encode() in held]


def test_stock_is_as_the_plan_says(book) -> None:
    plan = book("plan: 1\nshow: L\nunits: {desk: desk-16, box: stage-box-16}\n"
                "wiring: {network: [desk/net A -> box/net A]}\n"
                "labels: {size: 63.5 x 38.1 mm, columns: 3, rows: 7, gap: 2.5 x 0 mm, margin: 7.2 x 15.1 mm, skip: 20}")
    stock = label_stock(plan.plan)
    assert (stock.per_sheet, stock.fits, stock.left, stock.top) == (21, True, 7.2, 15.1)
    assert stock.right_edge == pytest.approx(7.2 + 3 * 63.5 + 2 * 2.5)
    data = page(plan).data
    assert [sum(label is not None for label in sheet) for sheet in data.sheets] == [1, 3]
    assert data.sheets[0][:20] == (None,) * 20


def test_without_stock_the_labels_fill_an_a4_sheet(book) -> None:
    stock = label_stock(book().plan)
    assert (stock.columns, stock.rows, stock.left, stock.top) == (3, 8, 0.0, 0.5)


@pytest.mark.parametrize(("size", "codes"), [("70 x 37 mm", True), ("38.1 x 21.2 mm", True), ("20 x 10 mm", False)])
def test_codes_too_fine_to_read_are_left_out(book, size: str, codes: bool) -> None:
    made = book(f"plan: 1\nshow: L\nunits: {{desk: desk-16}}\nlabels: {{size: {size}}}\n")
    maker = Labels(made, label_stock(made.plan))
    label = maker.unit(made.plan.units["desk"])
    assert (label.qr is not None) is codes
    assert not codes or maker.sizes.code / 29 >= FINEST_MM


def test_strips_have_the_pitch_of_the_panel_and_say_what_is_in_each_socket(book) -> None:
    text = """\
plan: 1
show: S
units: {desk: desk-16, box: stage-box-16, top: powered-top-12}
inputs: {7: {name: Whistle, from: box/in 3, mic: dynamic-vocal, to: main}}
buses: {main: {}}
outputs: {main: box/out 2}
wiring: {network: [desk/net A -> box/net A], xlr: [box/out 2 -> top/in]}
labels: {pitch: 30 mm, pitches: {stage-box-16: 25 mm, desk: 40 mm}}
"""
    made = book(text)
    got = {s.title: s for s in strips(made, label_stock(made.plan))}
    assert set(got) == {"box/in 1–8", "box/out 1–8"}, "rows with nothing in them are left out"
    assert got["box/in 1–8"].pitch == 25 and len(got["box/in 1–8"].cells) == 8
    assert [c.text for c in got["box/in 1–8"].cells][:4] == ["", "", "7 Whistle", ""]
    assert [c.text for c in got["box/out 1–8"].cells][:2] == ["", "main"]


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(said=st.fixed_dictionaries({}, optional={
    "sheet": st.sampled_from(["A4", "letter", "a5", "52 x 60 mm", "0 x 0 mm", "900 x 30 cm"]),
    "size": st.sampled_from(["70 x 37 mm", "5 x 5 mm", "0 x 0 mm", "300 x 400 mm", "7 x 3.7 cm", "70 mm"]),
    "columns": st.integers(0, 999999), "rows": st.integers(0, 999999), "skip": st.integers(0, 999999),
    "gap": st.sampled_from(["0 x 0 mm", "500 x 500 mm"]), "margin": st.sampled_from(["0 x 0 mm", "999 x 999 mm"]),
    "strip": st.sampled_from(["0 mm", "-5 mm", "10 m"]), "pitch": st.sampled_from(["0 mm", "-1 mm", "40 m"])}))
def test_whatever_stock_is_said_there_is_a_page_and_no_fall(book, said: dict[str, object]) -> None:
    lines = "".join(f"  {key}: {value}\n" for key, value in said.items())
    made = book("plan: 1\nshow: L\nunits: {desk: desk-16, box: stage-box-16}\n"
                "wiring: {network: [desk/net A -> box/net A], xlr: [box/out 1 -> desk/line 1]}\n"
                f"labels:\n{lines or '  skip: 0'}\n")
    data = page(made).data
    assert data.labels == 6 and all(label.head_fit > 0 for label in every(data))


def test_a_line_shrinks_until_it_fits_and_no_further_than_half() -> None:
    assert fit("short", 3.5, 40) == 1
    assert fit("x" * 30, 3.5, 40) == pytest.approx(40 / (0.6 * 3.5 * 30), abs=0.001)
    assert fit("x" * 300, 3.5, 40) == 0.5


def test_the_shows_have_labels() -> None:
    for show in ("festival/meadow", "chapel/lessons-and-songs"):
        made = Book.of(compile_plan(ROOT / "shows" / f"{show}.yaml"), "crew")
        data = page(made).data
        heads = [label.head for label in every(data)]
        assert all(heads.count(name) == 2 for name in made.codes.values())
