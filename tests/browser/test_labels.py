"""Label sheets as the printer gets them: millimetres, whole words, codes that can be read; only what was chosen."""

from __future__ import annotations

import io
import re
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np
import pytest
import zxingcpp
from PIL import Image

from helpers import tools
from rigbook.handbook.make import make
from rigbook.handbook.themes import find_theme
from rigbook.handbook.write import write
from rigbook.pipeline import compile_plan

if TYPE_CHECKING:
    from playwright.sync_api import Page

pytestmark = pytest.mark.browser
PX_MM = 25.4 / 96
POINT_MM = 25.4 / 72
STOCKS = {
    "": (70, 37, 0, 0.5, 3, 8),
    "size: 63.5 x 38.1 mm, columns: 3, rows: 7, gap: 2.5 x 0 mm, margin: 7.2 x 15.1 mm": (63.5, 38.1, 7.2, 15.1, 3, 7),
    "size: 99.1 x 57 mm, columns: 2, rows: 5, gap: 2.5 x 0 mm": (99.1, 57, (210 - 200.7) / 2, 6, 2, 5),
}
"""Width and height of a label, its place on the sheet, columns and rows; gaps are 2.5 mm wide where there are any."""
PLAN = """\
plan: 1
show: Sheets
units: {desk: desk-24, box: stage-box-16, amp: amplifier-2x500, top-left, top-right: {kind: top-12}}
inputs:
  1: {name: Fiddle with a name that is long, from: box/in 5, mic: condenser-clip, phantom: yes, to: main}
buses: {main: {stereo: yes}}
outputs: {main left: box/out 1, main right: box/out 2}
wiring:
  network: ["desk/net A -> box/net A, 30 m"]
  multicore-8: ["desk/out 1-8 -> box/in 9-16, 20 m"]
  xlr: ["box/out 1 -> amp/in A, 2 m, label Left main, the long one", "box/out 2 -> amp/in B, 2 m"]
  speaker-2.5-mm2: ["amp/out A -> top-left, 15 m", amp/out B -> top-right]
racks: {side: {kind: rack-6u, front: {1: amp, 3: box}}}
labels: {STOCK}
"""


@pytest.fixture(scope="module")
def page() -> Iterator[Page]:
    executable = tools.chromium()
    from playwright.sync_api import sync_playwright

    with sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=executable, args=tools.launch_flags())
        yield browser.new_context(offline=True, device_scale_factor=3).new_page()
        browser.close()


def opened(page: Page, folder: Path, stock: str) -> Page:
    (folder / "plan.yaml").write_text(PLAN.replace("STOCK", stock).replace("the long one", "label long"), "utf-8")
    write(make(compile_plan(folder / "plan.yaml"), "crew", find_theme("plain")), folder / "site")
    page.goto((folder / "site" / "labels.html").as_uri())
    return page


def pages(pdf: bytes) -> list[tuple[float, float]]:
    """Width and height of each sheet of a PDF, in mm, rounded."""
    boxes = re.findall(rb"/MediaBox\s*\[0 0 ([\d.]+) ([\d.]+)\]", pdf)
    return [(round(float(w) * POINT_MM), round(float(h) * POINT_MM)) for w, h in boxes]


@pytest.mark.parametrize("stock", STOCKS, ids=["24", "21", "10"])
def test_each_label_stands_where_the_stock_has_it(page: Page, tmp_path: Path, stock: str) -> None:
    width, height, left, top, columns, rows = STOCKS[stock]
    opened(page, tmp_path, stock).emulate_media(media="print")
    page.set_viewport_size({"width": 794, "height": 1123})
    sheet = page.locator(".label-sheet").first
    frame = sheet.bounding_box()
    assert frame is not None and frame["width"] * PX_MM == pytest.approx(210, abs=0.1)
    cells = [cell.bounding_box() for cell in sheet.locator(".label-cell").all()]
    assert cells and len(cells) <= columns * rows
    step = 2.5 if columns * rows != 24 else 0.0
    for at, box in enumerate(cells):
        assert box is not None
        place = ((box["x"] - frame["x"]) * PX_MM, (box["y"] - frame["y"]) * PX_MM)
        assert place == pytest.approx((left + at % columns * (width + step), top + at // columns * height), abs=0.1)
        assert (box["width"] * PX_MM, box["height"] * PX_MM) == pytest.approx((width, height), abs=0.1)


@pytest.mark.parametrize("stock", [*STOCKS, "size: 38.1 x 21.2 mm, columns: 5, rows: 13, gap: 2.5 x 0 mm"],
                         ids=["24", "21", "10", "65"])
def test_nothing_on_a_label_is_cut_off_and_its_code_is_read(page: Page, tmp_path: Path, stock: str) -> None:
    """Read by zxing-cpp from the pixels, at 288 dots an inch."""
    opened(page, tmp_path, stock).emulate_media(media="screen")
    page.set_viewport_size({"width": 1280, "height": 900})
    cut = page.evaluate("""() => [...document.querySelectorAll(".label-cell, .strip-cells li")].filter(c =>
        c.scrollHeight > c.clientHeight + 1 || c.scrollWidth > c.clientWidth + 1).map(c => c.textContent)""")
    assert cut == []
    shot = page.locator(".label-sheet").first.screenshot()
    seen = {found.text for found in zxingcpp.read_barcodes(np.array(Image.open(io.BytesIO(shot)).convert("L")))}
    heads = page.locator(".label-sheet").first.locator(".label-cell:has(.qr) .label-head").all_inner_texts()
    assert len(heads) > 6
    assert {h for h in heads if re.fullmatch(r"\w{3}-\w{3}", h)} <= seen


def test_strips_have_their_pitch_and_height(page: Page, tmp_path: Path) -> None:
    opened(page, tmp_path, "pitch: 28.5 mm, strip: 12 mm").emulate_media(media="print")
    cells = [cell.bounding_box() for cell in page.locator(".strip-cells").first.locator("li").all()]
    assert {(round(box["width"] * PX_MM, 1), round(box["height"] * PX_MM, 1)) for box in cells if box} == {(28.5, 12.0)}


def test_what_is_chosen_is_printed_and_nothing_else(page: Page, tmp_path: Path) -> None:
    opened(page, tmp_path, "")
    upright, across = (210, 297), (297, 210)
    page.emulate_media(media="print")

    def printed(choice: str) -> list[tuple[float, float]]:
        page.evaluate("id => { document.getElementById(id).checked = true }", choice)
        return pages(page.pdf(prefer_css_page_size=True, format="A4"))

    labels = page.locator(".label-sheet").count()
    assert printed("print-sheets") == [upright] * labels
    assert printed("print-strips") == [across]
    assert printed("print-cards") == [upright]
    everything = printed("print-all")
    assert everything.count(across) == 1 and len(everything) >= labels + 3
