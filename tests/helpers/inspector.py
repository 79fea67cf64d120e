"""Open a page of a built site in Chromium and say everything that is wrong with it.

One load serves all checks with scripts on; a second, without scripts, shows that the page stands without them.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from playwright.sync_api import Browser, Page

WIDTHS = (1280, 768, 360)
"""Window widths in px: a laptop, a tablet, a small phone."""
PAPER = 680
"""Width in px of the text on A4 (210 mm) with margins of 15 mm, at 96 px an inch: 180 / 25.4 x 96."""
AXE_TAGS = ("wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice")
PROBE = Path(__file__).with_name("page_probe.js").read_text("utf-8")
AXE_RUN = """async (options) => (await axe.run(document, options)).violations.map(v =>
    `${v.id}: ${v.help}: ` + v.nodes.slice(0, 3).map(n => n.target.join(" ")).join(", ")
    + (v.nodes.length > 3 ? ` and ${v.nodes.length - 3} more` : ""))"""
HEADINGS = """() => [...document.querySelectorAll("main h1, main h2, main h3")].map(h => {
    if (h.closest("details:not([open])")) return null;
    return h.checkVisibility() && h.getBoundingClientRect().height > 0 ? null : h.textContent.trim();
}).filter(Boolean)"""


class Inspector:
    """Two offline windows, with and without scripts, and the checks of a page.

    The windows are used again for every page: opening one costs as much as three page loads.
    """

    def __init__(self, browser: Browser, axe_source: str) -> None:
        self._faults: list[str] = []
        self._inside = ""
        self._clean: set[bytes] = set()
        self._statics: dict[Path, bytes] = {}
        self._scripted = self._window(browser, True)
        self._scripted.add_init_script(axe_source)
        self._unscripted = self._window(browser, False)

    def inspect(self, root: Path, file: Path) -> list[str]:
        """All that is wrong with `file`, a page of the site in `root`; nothing if the same bytes were clean before."""
        digest = hashlib.sha256(self._static_digest(root) + file.read_bytes()).digest()
        if digest in self._clean:
            return []
        faults = [*self._with_scripts(root, file), *(f"without scripts: {f}" for f in self._without(root, file))]
        if not faults:
            self._clean.add(digest)
        return faults

    def _static_digest(self, root: Path) -> bytes:
        if root not in self._statics:
            files = sorted(f for f in root.rglob("*") if f.suffix in {".css", ".js", ".svg", ".woff2"})
            parts = b"".join(hashlib.sha256(f.read_bytes()).digest() for f in files)
            self._statics[root] = hashlib.sha256(parts).digest()
        return self._statics[root]

    def _window(self, browser: Browser, scripts: bool) -> Page:
        context = browser.new_context(offline=True, reduced_motion="reduce", java_script_enabled=scripts)
        page = context.new_page()
        page.on("request", lambda r: self._asked(r.url))
        page.on("requestfailed", lambda r: self._note(f"could not load {r.url.removeprefix(self._inside)}"))
        page.on("websocket", lambda socket: self._note(f"opens a connection to {socket.url}"))
        page.on("pageerror", lambda error: self._note(f"script error: {error}"))
        page.on("console", lambda m: self._note(f"console: {m.text}") if m.type == "error" else None)
        return page

    def _asked(self, url: str) -> None:
        if not url.startswith((self._inside, "data:", "blob:", "about:")):
            self._note(f"asks for {url}, outside the folder")

    def _note(self, fault: str) -> None:
        self._faults.append(fault)

    def _open(self, page: Page, root: Path, file: Path) -> None:
        page.goto("about:blank")  # the page before has ended, so that nothing it still asks for is laid to this one
        self._faults, self._inside = [], root.resolve().as_uri() + "/"
        page.emulate_media(media="screen", color_scheme="light")
        page.set_viewport_size({"width": WIDTHS[0], "height": 800})
        page.goto(file.resolve().as_uri(), wait_until="load")

    def _with_scripts(self, root: Path, file: Path) -> Iterator[str]:
        page = self._scripted
        self._open(page, root, file)
        for width in WIDTHS:
            page.set_viewport_size({"width": width, "height": 800})
            yield from (f"{width} px: {f}" for f in page.evaluate(PROBE, "screen"))
        # `preload` would fetch the style sheets again by script, which file:// forbids
        everything = {"runOnly": list(AXE_TAGS), "rules": {"target-size": {"enabled": True}}, "preload": False}
        contrast = {"runOnly": {"type": "rule", "values": ["color-contrast"]}, "preload": False}
        yield from (f"axe, light, {WIDTHS[-1]} px: {f}" for f in page.evaluate(AXE_RUN, everything))
        page.emulate_media(color_scheme="dark")
        yield from (f"axe, dark: {f}" for f in page.evaluate(AXE_RUN, contrast))
        page.emulate_media(media="print", color_scheme="light")
        page.set_viewport_size({"width": PAPER, "height": 1000})
        yield from (f"print: {f}" for f in page.evaluate(PROBE, "print"))
        yield from self._faults

    def _without(self, root: Path, file: Path) -> Iterator[str]:
        page = self._unscripted
        self._open(page, root, file)
        main = page.locator("main")
        if main.count() != 1 or not main.is_visible() or len(main.inner_text().split()) < 5:
            yield "no main content to be seen"
        else:
            yield from (f"heading `{text}` is hidden" for text in page.evaluate(HEADINGS))
        yield from self._faults
