"""Where a built site points: every link, picture, script and anchor must be in the folder, every id once in a page."""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import dataclass, field
from html.parser import HTMLParser
from pathlib import Path
from urllib.parse import unquote, urlsplit

POINTERS = ("href", "src", "poster", "data", "action", "formaction", "xlink:href", "srcset", "for", "headers",
            "aria-labelledby", "aria-describedby", "aria-controls", "aria-owns", "list", "form")
ID_LISTS = frozenset({"for", "headers", "aria-labelledby", "aria-describedby", "aria-controls", "aria-owns", "list",
                      "form"})
MAY_LEAVE = frozenset({"a", "area"})
"""A person may follow a link out of the folder; anything else would be a request."""


@dataclass
class Marks(HTMLParser):
    """What a page defines and what it points to."""

    ids: Counter[str] = field(default_factory=Counter)
    targets: list[tuple[str, str, str]] = field(default_factory=list)
    """(element, attribute, value), in the order of the page."""

    def __post_init__(self) -> None:
        super().__init__(convert_charrefs=True)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Note an element's id and pointers."""
        for name, value in attrs:
            if name == "id":
                self.ids[value or ""] += 1
            elif name in POINTERS and value is not None:
                self.targets += [(tag, name, part) for part in _parts(name, value)]
            elif name == "style" and value:
                self.targets += [(tag, "url()", u) for u in _urls(value)]
            elif tag == "meta" and name == "content" and value and (m := re.match(r"\d+;\s*url=(.+)", value, re.I)):
                self.targets.append((tag, "content", m[1]))


def _parts(name: str, value: str) -> list[str]:
    if name in ID_LISTS:
        return [f"#{part}" for part in value.split()]
    if name == "srcset":
        return [part.split()[0] for part in value.split(",") if part.strip()]
    return [value]


def _urls(css: str) -> list[str]:
    return [m[2] for m in re.finditer(r"""(?:url\(\s*|@import\s+)(["']?)([^"')\s;]+)\1""", css)]


def read(text: str) -> Marks:
    """The marks of one page."""
    marks = Marks()
    marks.feed(text)
    return marks


def faults(root: Path) -> list[str]:
    """Everything in the site at `root` that points nowhere or out of the folder, and every id given twice."""
    root = root.resolve()
    pages = {f: read(f.read_text("utf-8")) for f in sorted(root.rglob("*.html"))}
    found: list[str] = []
    for file, marks in pages.items():
        name = file.relative_to(root).as_posix()
        found += [f"{name}: id `{i}` is given {n} times" for i, n in marks.ids.items() if n > 1]
        found += [f"{name}: <{tag} {attribute}=\"{value}\"> {why}" for tag, attribute, value in marks.targets
                  if (why := _fault(root, file, tag, value, pages))]
    for file in sorted(root.rglob("*.css")):
        name = file.relative_to(root).as_posix()
        found += [f"{name}: url({value}) {why}" for value in _urls(file.read_text("utf-8"))
                  if (why := _fault(root, file, "style", value, pages))]
    return found


def _fault(root: Path, file: Path, tag: str, value: str, pages: dict[Path, Marks]) -> str:
    url = urlsplit(value.strip())
    if url.scheme or url.netloc:
        fine = url.scheme == "data" or (tag in MAY_LEAVE and url.scheme in {"http", "https", "mailto", "tel"})
        return "" if fine else "leaves the folder"
    if value.startswith("/"):
        return "starts at the root of a server"
    target = (file.parent / unquote(url.path)).resolve() if url.path else file
    if target != root and root not in target.parents:
        return "leaves the folder"
    if not target.is_file():
        return "is a folder: without a server no page opens" if target.is_dir() else "is not there"
    if url.fragment and target in pages and unquote(url.fragment) not in pages[target].ids:
        return "has no such place in the page"
    return ""
