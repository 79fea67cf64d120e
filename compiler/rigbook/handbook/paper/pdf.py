"""A built handbook as PDF: bookmarks, tags, page numbers; the same files give the same bytes with the same fonts.

Each page of the handbook is laid out as a section of its own, with its own page numbers, and the sections are put one
behind the other: laid out in one piece, a festival's three hundred sheets take longer than anyone waits, and a changed
section could not take the old one's place in a binder.
"""

from __future__ import annotations

import copy
import hashlib
import logging
from collections.abc import Iterator, Mapping, Sequence
from functools import cached_property, partial
from importlib.util import find_spec
from mimetypes import guess_type
from types import MappingProxyType
from typing import Any, Final, NamedTuple

from rigbook.handbook.anchors import slug as plain_name
from rigbook.handbook.paper.bind import bind, parse, styles
from rigbook.handbook.paper.failure import PaperError
from rigbook.handbook.paper.ink import Rule, ink, printed
from rigbook.handbook.paper.parts import APART, part, without
from rigbook.handbook.site import Leaf, Site
from rigbook.handbook.themes import Theme
from rigbook.records import changing

BASE: Final = "https://handbook.invalid/"
"""Where the built files seem to lie; `.invalid` is reserved for names that never exist (RFC 2606)."""
SHEET: Final = "ten-minutes"
SIZES: Final = (8.4, 8.0, 7.65)
"""Sizes of type in pt that Ten minutes is tried in, until it is one sheet. In the last, its smallest text has 7 pt:
what has no room then goes on to a second sheet.
"""
LONG: Final = (
    ":root:root:root{font-size:7.65pt!important}"
    ".columns .two>.wide,.columns>section{float:none!important;width:auto!important;margin:0!important}"
)
"""Rules for a Ten minutes that is longer than a sheet: WeasyPrint drops what of a float has no room on the sheet."""
CLOSER: Final = "html{font-size:9.75pt!important}:root:root:root{--line:1.3}h2{margin-top:1.1rem!important}"
"""Rules that save about 6 % of the sheets of a page, where the last would be nearly empty. Text of .72rem has 7 pt."""
SAVED: Final = 0.06
PAPER: Final = MappingProxyType({"a4": "A4", "letter": "letter"})
"""Sizes of sheets by what `--paper` calls them, as CSS calls them (CSS Paged Media 3, 7.1)."""


class Style(NamedTuple):
    """A style sheet, read once for all pages that name it: reading took an eighth of the time."""

    css: Any
    rules: tuple[Rule, ...]


class Section(NamedTuple):
    """One page of the handbook, laid out."""

    leaf: Leaf
    document: Any


def lacking() -> str:
    """Why no PDF can be made on this machine; empty where it can."""
    how = "`pip install 'rigbook[pdf]'`"
    if not find_spec("weasyprint"):
        return f"a PDF needs WeasyPrint, which is not installed: {how}"
    try:
        import weasyprint  # noqa: F401
    except OSError as error:  # the package is there and a library of the system is not
        library = str(error).splitlines()[0]
        return (
            f"WeasyPrint cannot start: {library}; install Pango with the system's packages "
            "(Debian: `apt-get install libpango-1.0-0 libpangoft2-1.0-0 libharfbuzz-subset0`)"
        )
    return ""


def pdfs(files: Mapping[str, bytes], site: Site, theme: Theme, paper: str = "a4") -> dict[str, bytes]:
    """The PDF of a view by file name, and those of what is printed by itself: Ten minutes, label sheets, strips and
    rack cards, fault patterns. On sheets of that size, but for label stock. PaperError where none can be made.
    """
    reason = lacking()
    if reason:
        raise PaperError(reason)
    logger = logging.getLogger("weasyprint")
    quiet = logger.level
    logger.setLevel(logging.CRITICAL)  # it tells of every rule that is for browsers only
    try:
        return dict(_Press(files, site, theme, paper).print())
    except PaperError:
        raise
    except Exception as error:  # a theme's style sheets are a user's code, and WeasyPrint stumbles over some
        raise PaperError(f"WeasyPrint cannot lay the pages out: {type(error).__name__} {error}".strip()) from error
    finally:
        logger.setLevel(quiet)


@changing
class _Press:
    """One run: the parsed pages and the sheets of style."""

    files: Mapping[str, bytes]
    site: Site
    theme: Theme
    paper: str = "a4"

    @cached_property
    def pages(self) -> dict[str, Any]:
        """The parsed pages by slug, in reading order."""
        return {leaf.slug: parse(self.files[f"{leaf.slug}.html"]) for leaf in self.site.leaves}

    def print(self) -> Iterator[tuple[str, bytes]]:
        """The PDF files and their names."""
        name = f"{plain_name(self.site.title).lower() or 'plan'}-{self.site.view}"
        sections = [self.section(leaf) for leaf in self.site.leaves]
        yield f"{name}.pdf", self._bytes(sections)
        for section in (s for s in sections if s.leaf.slug == SHEET):
            yield f"{name}-{SHEET}.pdf", self._bytes([section])
        for apart in APART:
            for leaf in (leaf for leaf in self.site.leaves if leaf.slug == apart.slug):
                page = part(self.pages[leaf.slug], apart)
                if page is not None:
                    yield f"{name}-{apart.name}.pdf", self._bytes([Section(leaf, self._document(leaf, page))])

    def section(self, leaf: Leaf) -> Section:
        """A page of the handbook, without what is printed by itself; Ten minutes in the largest type that fits, others
        a little closer where that spares a nearly empty sheet.
        """
        page = without(self.pages[leaf.slug])
        if leaf.slug != SHEET:
            document = self._document(leaf, page)
            many = len(document.pages)
            if many > 1 and filled(document.pages[-1]) < min(0.25, SAVED * (many - 1)):
                document = min(document, self._document(leaf, page, CLOSER), key=lambda d: len(d.pages))
            return Section(leaf, document)
        for size in SIZES:
            document = self._document(leaf, page, f":root:root:root{{font-size:{size}pt!important}}")
            if len(document.pages) == 1 and filled(document.pages[0]) < 0.99:
                return Section(leaf, document)
        return Section(leaf, self._document(leaf, page, LONG))

    def _document(self, leaf: Leaf, page: Any, more: str = "") -> Any:
        """The sheets of a page."""
        from cssselect2 import ElementWrapper
        from weasyprint import HTML

        texts = [*styles(page, self.files), self.theme.paper("pdf.css"), self.size, more]
        sheets = [self.style(text) for text in texts]
        tree = bind(copy.deepcopy(page), leaf, self.site.leaves, self.title)
        ink(tree, [rule for sheet in sheets for rule in sheet.rules])
        document = HTML(string="<!doctype html>", base_url=BASE, url_fetcher=self.fetch, media_type="print")
        document.wrapper_element = ElementWrapper.from_html_root(tree, content_language=None)
        document.etree_element = tree
        return document.render(stylesheets=[sheet.css for sheet in sheets], font_config=self.fonts)

    def style(self, text: str) -> Style:
        """A style sheet as the maker of the PDF and the painter of drawings take it."""
        from weasyprint import CSS

        if text not in self.read:
            css = CSS(string=text, base_url=BASE + "static/", url_fetcher=self.fetch, font_config=self.fonts)
            self.read[text] = Style(css, tuple(printed(text)))
        return self.read[text]

    @cached_property
    def read(self) -> dict[str, Style]:
        """The style sheets that were read."""
        return {}

    @cached_property
    def fetch(self) -> Any:
        """What reads pictures and fonts."""
        return _fetcher(self.files)

    @cached_property
    def fonts(self) -> Any:
        """The machine's fonts and the theme's own, for as long as anything is printed."""
        from weasyprint.text.fonts import FontConfiguration

        return FontConfiguration()

    @property
    def size(self) -> str:
        """The rules that give sheets their size; a theme's own margins and label stock stay."""
        return f"@page{{size:{PAPER[self.paper]}}}@page across{{size:{PAPER[self.paper]} landscape}}"

    @property
    def title(self) -> str:
        """What the document is called."""
        return f"{self.site.title} – {self.site.view_title}"

    def _bytes(self, sections: Sequence[Section]) -> bytes:
        mark = hashlib.sha256(b"".join(n.encode() + b"\0" + self.files[n] for n in sorted(self.files))).digest()[:16]
        joined = sections[0].document.copy([sheet for section in sections for sheet in section.document.pages])
        return bytes(
            joined.write_pdf(
                pdf_variant="pdf/ua-1", pdf_tags=True, pdf_identifier=mark, finisher=partial(_number, sections)
            )
        )


def filled(sheet: Any) -> float:
    """How far down a laid out sheet its text goes, 0 to 1; where a float was cut off, 1."""
    frame = sheet._page_box
    ends = (b.position_y + b.height for b in frame.children[0].descendants() if isinstance(b.height, (int, float)))
    return float((max(ends, default=0) - frame.content_box_y()) / frame.height)


def _number(sections: Sequence[Section], document: Any, pdf: Any) -> None:
    """Let programs call the sheets what their feet say: `6-3` is the third of section 6 (ISO 32000-2, 12.4.2)."""
    import pydyf

    starts: list[Any] = []
    at = 0
    for section in sections:
        starts += [at, pydyf.Dictionary({"P": pydyf.String(f"{section.leaf.number}-"), "S": "/D"})]
        at += len(section.document.pages)
    pdf.catalog["PageLabels"] = pydyf.Dictionary({"Nums": pydyf.Array(starts)})


def _fetcher(files: Mapping[str, bytes]) -> Any:
    """Reads pictures and fonts from the built files and from nowhere else."""
    from weasyprint.urls import URLFetcher, URLFetcherResponse

    class Fetcher(URLFetcher):  # type: ignore[misc]
        """No network, no disk."""

        def fetch(self, url: str, headers: Any = None) -> Any:
            name = url.removeprefix(BASE)
            if url.startswith("data:"):
                return super().fetch(url, headers)
            if url == name or name not in files:
                raise ValueError(f"`{url}` is no file of the handbook")
            return URLFetcherResponse(url, files[name], {"Content-Type": guess_type(name)[0] or "text/plain"})

    return Fetcher()
