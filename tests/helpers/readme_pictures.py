"""Take the pictures of README.md anew: `python tests/helpers/readme_pictures.py`, from the repository's root.

Builds the reel night of the village hall with this working copy and writes `compiler/docs/pictures/`: the front page on
a laptop, a step of the walk test on a phone, a sheet of the patch as printed. Needs Chromium, `pdftoppm` (of
poppler-utils) and Pillow, which comes with `rigbook[pdf]`. Each picture has few colours, so that it stays below 60 kB.
"""

from __future__ import annotations

import io
import subprocess
import sys
import tempfile
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from helpers import tools

SHOW = tools.ROOT / "shows" / "rural-hall" / "reel-night.yaml"
OUT = tools.ROOT / "compiler" / "docs" / "pictures"
COLOURS = 16


def main() -> int:
    """Build, look, write."""
    from playwright.sync_api import sync_playwright

    OUT.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as driver:
        site = Path(folder) / "site"
        subprocess.run([sys.executable, "-m", "rigbook", "build", str(SHOW), "--out", str(site)], check=True)
        browser = driver.chromium.launch(executable_path=tools.find_chromium(), args=tools.launch_flags())
        page = browser.new_page(viewport={"width": 1180, "height": 1250}, reduced_motion="reduce")
        page.goto((site / "index.html").as_uri())
        keep("front", page.screenshot(), 760)
        page.goto((site / "patch.html").as_uri())
        sheet = Path(folder) / "patch.pdf"
        page.pdf(path=sheet, format="A4")
        png = subprocess.run(["pdftoppm", "-r", "110", "-f", "1", "-l", "1", "-png", str(sheet)], capture_output=True,
                             check=True)
        keep("patch-printed", png.stdout, 600)
        phone = browser.new_page(viewport={"width": 390, "height": 760}, device_scale_factor=1.5,
                                 reduced_motion="reduce", has_touch=True, is_mobile=True)
        phone.goto((site / "walk-test.html").as_uri())
        step = phone.locator("section.step").first.get_attribute("id")
        phone.goto((site / "walk-test.html").as_uri() + f"#{step}")
        phone.reload()
        phone.wait_for_timeout(300)
        keep("walk-test-phone", phone.screenshot(), 420)
        browser.close()
    return 0


def keep(name: str, png: bytes, width: int) -> None:
    """Write a picture, made smaller and with few colours."""
    from PIL import Image

    picture = Image.open(io.BytesIO(png)).convert("RGB")
    height = round(picture.height * width / picture.width)
    small = picture.resize((width, height), Image.Resampling.LANCZOS).quantize(COLOURS, dither=Image.Dither.NONE)
    small.save(OUT / f"{name}.png", optimize=True)
    print(f"{name}.png: {width} x {height}, {(OUT / f'{name}.png').stat().st_size} bytes")


if __name__ == "__main__":
    raise SystemExit(main())
