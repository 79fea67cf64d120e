"""What makes a served handbook a thing to keep on a phone: its mark as icons, a manifest, and a script that holds all
its files for when there is no network. From a memory stick none of it is used.
"""

from __future__ import annotations

import hashlib
import json
import re
import struct
import zlib
from collections.abc import Iterator, Mapping
from typing import Final, NamedTuple

from rigbook.handbook.drawings import svg
from rigbook.handbook.site import Site

MANIFEST, WORKER, MARK = "app.webmanifest", "worker.js", "icons/mark.svg"
SIZES: Final = (192, 512)
"""Sizes of the icons in px, those that home screens ask for."""
GRID: Final = 24


class Bar(NamedTuple):
    """A rectangle of the mark, on a grid of 24."""

    x: float
    y: float
    width: float
    height: float


MARK_BARS: Final = (
    Bar(5, 10, 4.5, 4),
    Bar(9.5, 11.5, 3, 1),
    Bar(11.5, 7, 1, 10),
    Bar(12.5, 7, 2, 1),
    Bar(12.5, 16, 2, 1),
    Bar(14.5, 5.5, 4.5, 4),
    Bar(14.5, 14.5, 4.5, 4),
)
"""The mark: one block that feeds two, as in the drawing of the signal. Within the middle 4/5 of its square, so that a
home screen may cut the corners.
"""
INK, PAPER = "#15181c", "#fdfcf9"

WORKER_TEXT: Final = """\
// Keeps the handbook on this device. What the server has goes first, so that nobody reads an old plan beside a new one;
// without a network, or where the server lets wait too long, the files of the build that was last held are read: that
// one's for a while, so that a page and its looks belong together. Another build has another name here.
"use strict";
const PATIENCE = 3000, WHILE = 20000;  // ms
let slow = -Infinity;
const FILES = %(files)s;
const SHELF = "rigbook " + self.registration.scope + " ";
const HELD = SHELF + "%(version)s";

self.addEventListener("install", (event) => event.waitUntil((async () => {
  const held = await caches.open(HELD);
  await held.addAll(FILES.map((file) => new Request(file, { cache: "reload" })));
  await self.skipWaiting();
})()));

self.addEventListener("activate", (event) => event.waitUntil((async () => {
  const others = (await caches.keys()).filter((name) => name.startsWith(SHELF) && name !== HELD);
  await Promise.all(others.map((name) => caches.delete(name)));
  await self.clients.claim();
})()));

self.addEventListener("fetch", (event) => {
  const { request } = event, url = new URL(request.url), scope = new URL(self.registration.scope);
  if (request.method !== "GET" || url.origin !== scope.origin || !url.pathname.startsWith(scope.pathname)) return;
  const file = decodeURIComponent(url.pathname.slice(scope.pathname.length)) || "index.html";
  if (!FILES.includes(file)) return;
  event.respondWith((async () => {
    const asked = fetch(request.url, { cache: "no-cache" });  // asked anew: the browser's own store may be old
    asked.catch(() => { /* told below, where anybody still waits */ });
    const patience = performance.now() - slow < WHILE ? 0 : PATIENCE;
    try {
      const got = await Promise.race([asked, new Promise((done) => setTimeout(done, patience))]);
      if (got) return got;
      if (patience) slow = performance.now();
    } catch { /* no network */ }
    return await (await caches.open(HELD)).match(new URL(file, scope)) || asked;
  })());
});
"""


def icon() -> dict[str, bytes]:
    """The mark as a drawing, for the tab of a browser."""
    bars = "".join(
        f'<rect x="{svg.num(b.x)}" y="{svg.num(b.y)}" width="{svg.num(b.width)}" height="{svg.num(b.height)}"/>'
        for b in MARK_BARS
    )
    text = (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {GRID} {GRID}"><title>rigbook</title>'
        f'<rect width="{GRID}" height="{GRID}" rx="3" fill="{INK}"/><g fill="{PAPER}">{bars}</g></svg>\n'
    )
    return {MARK: text.encode()}


def installable(files: Mapping[str, bytes], site: Site, mode: str, language: str) -> dict[str, bytes]:
    """Manifest, icons and worker for the files of a handbook, which they name and do not change.

    `mode` is the theme's: `light`, `dark` or `system`; `language` that of the pages (BCP 47). The same files give the
    same bytes.
    """
    icons = {f"icons/mark-{size}.png": png(size) for size in SIZES}
    tokens = files.get("static/tokens.css", b"").decode("utf-8")
    papers = re.findall(r"--paper: *(#[0-9a-fA-F]{3,6})", tokens)
    ground = (papers[-1] if mode == "dark" else papers[0]) if papers else PAPER
    manifest = {
        "name": site.title,
        "short_name": site.title[:24],
        "lang": language,
        "id": f"rigbook-{site.key}",
        "start_url": "index.html#resume",
        "scope": "./",
        "display": "standalone",
        "background_color": ground,
        "theme_color": ground,
        "icons": [
            {"src": name, "sizes": f"{size}x{size}", "type": "image/png", "purpose": purpose}
            for size, name in zip(SIZES, icons, strict=True)
            for purpose in ("any", "maskable")
        ],
    }
    more = {**icons, MANIFEST: (json.dumps(manifest, ensure_ascii=False, indent=1) + "\n").encode()}
    every = {**files, **more}
    # what is made for paper is not carried on the phone
    names = json.dumps(sorted(n for n in every if not n.endswith(".pdf")), ensure_ascii=False)
    return {**more, WORKER: (WORKER_TEXT % {"files": names, "version": version(every)}).encode()}


def version(files: Mapping[str, bytes]) -> str:
    """Names a build by what is in it."""
    whole = hashlib.sha256()
    for name in sorted(files):
        whole.update(name.encode() + b"\0" + hashlib.sha256(files[name]).digest())
    return whole.hexdigest()[:16]


def png(size: int) -> bytes:
    """The mark as a picture of two colours (PNG, ISO/IEC 15948), not compressed: compressors differ, bytes may not."""
    palette = bytes.fromhex(INK[1:] + PAPER[1:])
    rows = b"".join(b"\0" + row for row in _rows(size))
    header = struct.pack(">IIBBBBB", size, size, 1, 3, 0, 0, 0)
    parts = ((b"IHDR", header), (b"PLTE", palette), (b"IDAT", _stored(rows)), (b"IEND", b""))
    return b"\x89PNG\r\n\x1a\n" + b"".join(_chunk(kind, data) for kind, data in parts)


def _rows(size: int) -> Iterator[bytes]:
    """Rows from the top, one bit a pixel."""
    unit = size / GRID
    for y in range(size):
        bits = 0
        for bar in MARK_BARS:
            if bar.y * unit <= y + 0.5 < (bar.y + bar.height) * unit:
                left, right = round(bar.x * unit), round((bar.x + bar.width) * unit)
                bits |= ((1 << (right - left)) - 1) << (size - right)
        yield (bits << (-size % 8)).to_bytes(-(-size // 8), "big")


def _stored(data: bytes) -> bytes:
    """A zlib stream of stored blocks (RFC 1950 and 1951)."""
    blocks = [data[i : i + 65535] for i in range(0, len(data), 65535)]
    out = b"\x78\x01"
    for i, block in enumerate(blocks):
        last = i == len(blocks) - 1
        out += struct.pack("<BHH", last, len(block), len(block) ^ 0xFFFF) + block
    return out + struct.pack(">I", zlib.adler32(data))


def _chunk(kind: bytes, data: bytes) -> bytes:
    return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))
