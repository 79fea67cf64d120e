"""Take pictures of a built site's pages, for people to look at.

usage: python tests/helpers/browse.py SITE OUT [--page NAME ...] [--width PX ...] [--mode light|dark|print ...] [--full]

SITE is a built folder (or one page), OUT the folder for the PNG files. A file is called PAGE-MODE-WIDTH.png; for print
also PAGE.pdf, the sheets as the printer gets them. Without options: widths 390 and 1280, light, dark and print, the
first screenful of every page; `--full` takes the whole length. What the browser tests' probe finds is printed.
"""

from __future__ import annotations

import argparse
import sys
from pathlib import Path
from typing import Literal

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from helpers import tools
from helpers.inspector import PAPER, PROBE


def main() -> int:
    """Read the options and take the pictures."""
    parser = argparse.ArgumentParser(description=str(__doc__).partition("\n")[0])
    parser.add_argument("site", type=Path)
    parser.add_argument("out", type=Path)
    parser.add_argument("--page", nargs="*", default=[], help="only pages whose path holds one of these words")
    parser.add_argument("--width", nargs="*", type=int, default=[390, 1280])
    parser.add_argument("--mode", nargs="*", choices=("light", "dark", "print"), default=["light", "dark", "print"])
    parser.add_argument("--full", action="store_true")
    options = parser.parse_args()
    executable = tools.find_chromium()
    if not executable:
        parser.error("no chromium on the path; name one in RIGBOOK_CHROMIUM")
    files = [options.site] if options.site.is_file() else sorted(options.site.rglob("*.html"))
    root = options.site.parent if options.site.is_file() else options.site
    options.out.mkdir(parents=True, exist_ok=True)
    _pictures(str(executable), root, [f for f in files if not options.page or any(w in str(f) for w in options.page)],
              options)
    return 0


def _pictures(executable: str, root: Path, files: list[Path], options: argparse.Namespace) -> None:
    from playwright.sync_api import sync_playwright

    with sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=executable, args=tools.launch_flags())
        page = browser.new_context(offline=True, reduced_motion="reduce").new_page()
        for file in files:
            name = file.relative_to(root).with_suffix("").as_posix().replace("/", "-")
            page.goto(file.resolve().as_uri())
            for mode in options.mode:
                paper = mode == "print"
                scheme: Literal["dark", "light"] = "dark" if mode == "dark" else "light"
                page.emulate_media(media="print" if paper else "screen", color_scheme=scheme)
                for width in [PAPER] if paper else options.width:
                    page.set_viewport_size({"width": width, "height": 980 if paper else 844})
                    target = options.out / f"{name}-{mode}-{width}.png"
                    page.screenshot(path=target, full_page=options.full)
                    print(target)
                    for fault in page.evaluate(PROBE, "print" if paper else "screen"):
                        print(f"  {fault}")
                if paper:
                    page.pdf(path=options.out / f"{name}.pdf", prefer_css_page_size=True, format="A4")
        browser.close()


if __name__ == "__main__":
    raise SystemExit(main())
