"""A built handbook as PDF: bookmarks, tags, page numbers; the same files give the same bytes with the same fonts."""

from __future__ import annotations

import copy
import hashlib
import logging
import re
from collections.abc import Collection, Mapping
from dataclasses import dataclass
from functools import cached_property
from importlib.util import find_spec
from mimetypes import guess_type
from typing import Any, Final
from xml.etree.ElementTree import Element, SubElement

from rigbook.handbook.anchors import slug as plain_name
from rigbook.handbook.paper.bind import bind, parse, styles
from rigbook.handbook.paper.ink import ink
from rigbook.handbook.render import css_text
from rigbook.handbook.site import Site
from rigbook.handbook.themes import Theme

BASE: Final = "https://handbook.invalid/"
"""Where the built files seem to lie; `.invalid` is reserved for names that never exist (RFC 2606)."""
SHEET: Final = "ten-minutes"
APART: Final = ("labels",)
"""Pages that are no sheets of a book: labels are printed by the browser, on their own stock, to the millimetre."""
SIZES: Final = (8.4, 7.9, 7.4, 6.9, 6.5, 6.1, 5.7)
"""Sizes of type in pt that Ten minutes is tried in, until it is one sheet. The last is the least that is printed."""


class PaperError(Exception):
    """No PDF could be made; the message says why and what to do."""


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


def pdfs(files: Mapping[str, bytes], site: Site, theme: Theme) -> dict[str, bytes]:
    """The PDF of a view, and that of its Ten minutes where it has one, by file name. PaperError where none is made."""
    reason = lacking()
    if reason:
        raise PaperError(reason)
    logger = logging.getLogger("weasyprint")
    quiet = logger.level
    logger.setLevel(logging.CRITICAL)  # it tells of every rule that is for browsers only
    try:
        return _Press(files, site, theme).print()
    except PaperError:
        raise
    except Exception as error:  # a theme's style sheets are a user's code, and WeasyPrint stumbles over some
        raise PaperError(f"WeasyPrint cannot lay the pages out: {type(error).__name__} {error}".strip()) from error
    finally:
        logger.setLevel(quiet)


@dataclass
class _Press:
    """One run: the parsed pages and the sheets of style."""

    files: Mapping[str, bytes]
    site: Site
    theme: Theme

    @cached_property
    def pages(self) -> dict[str, Any]:
        """The parsed pages by slug, in reading order."""
        slugs = [leaf.slug for leaf in self.site.leaves if leaf.slug not in APART]
        return {slug: parse(self.files[f"{slug}.html"]) for slug in slugs}

    @cached_property
    def sheets(self) -> list[str]:
        """Every sheet of style, the last word last."""
        return [*styles(self.pages, self.files), self.theme.paper("pdf.css"), self._words()]

    def print(self) -> dict[str, bytes]:
        """The PDF files by name."""
        name = f"{plain_name(self.site.title).lower() or 'plan'}-{self.site.view}"
        out: dict[str, bytes] = {}
        sheet = self._one_sheet() if SHEET in self.pages else None
        whole = self._render({**self.pages, **({SHEET: _placeholder(self.pages[SHEET])} if sheet else {})})
        pages = list(whole.pages)
        if sheet:
            size, document = sheet
            out[f"{name}-{SHEET}.pdf"] = self._bytes(document)
            at = next(n for n, page in enumerate(pages) if SHEET in page.anchors)
            pages[at : at + 1] = self._sheet(size, f"{at + 1} / {len(pages)}", bound=True).pages
        out[f"{name}.pdf"] = self._bytes(whole.copy(pages))
        return out

    def _one_sheet(self) -> tuple[float, Any]:
        for size in SIZES:
            document = self._sheet(size, "1 / 1")
            if len(document.pages) == 1:
                return size, document
        raise PaperError(
            f"Ten minutes takes {len(document.pages)} sheets even in type of {SIZES[-1]} pt, so no PDF was made; "
            "build without `--pdf`, or give the theme a shorter `templates/ten-minutes.html`"
        )

    def _sheet(self, size: float, number: str, bound: bool = False) -> Any:
        numbered = f'@page{{@bottom-right{{content:"{number}"}}}}:root:root:root{{font-size:{size}pt!important}}'
        return self._render({SHEET: self.pages[SHEET]}, numbered, self.pages if bound else (SHEET,))

    def _render(self, pages: Mapping[str, Any], more: str = "", known: Collection[str] = ()) -> Any:
        """A document of some pages, in which links lead to those that are `known`; to its own where none is named."""
        from cssselect2 import ElementWrapper
        from weasyprint import CSS, HTML
        from weasyprint.text.fonts import FontConfiguration

        fetch, fonts = _fetcher(self.files), FontConfiguration()
        root = self.pages["index"]
        tongue = (root.get("lang", "en"), root.get("dir", "ltr"))
        tree = bind(copy.deepcopy(dict(pages)), known or pages, tongue, self.title)
        ink(tree, self.sheets)
        document = HTML(string="<!doctype html>", base_url=BASE, url_fetcher=fetch, media_type="print")
        document.wrapper_element = ElementWrapper.from_html_root(tree, content_language=None)
        document.etree_element = tree
        css = [
            CSS(string=text, base_url=BASE + "static/", url_fetcher=fetch, font_config=fonts)
            for text in (*self.sheets, more)
        ]
        return document.render(stylesheets=css, font_config=fonts)

    @property
    def title(self) -> str:
        """What the document is called."""
        return f"{self.site.title} – {self.site.view_title}"

    def _words(self) -> str:
        """The words of the margins, which each page of the site says for itself."""
        text = self.files["index.html"].decode("utf-8")
        foot = re.search(r'@bottom-left\{content:"((?:[^"\\]|\\.)*)"', text)
        head = css_text(self.site.title)
        when = css_text(" · ".join(t for t in (self.site.venue, self.site.day) if t))
        said = {"top-left": head, "top-center": when, "bottom-left": foot[1] if foot else ""}
        return "@page{" + "".join(f'@{box}{{content:"{text}"}}' for box, text in said.items()) + "}"

    def _bytes(self, document: Any) -> bytes:
        mark = hashlib.sha256(b"".join(n.encode() + b"\0" + self.files[n] for n in sorted(self.files))).digest()[:16]
        return bytes(document.write_pdf(pdf_variant="pdf/ua-1", pdf_tags=True, pdf_identifier=mark))


def _placeholder(page: Any) -> Any:
    """A page with its heading and its places alone: what is to be put in its place afterwards is one sheet too."""
    root, main = Element("html"), Element("main")
    body = SubElement(root, "body")
    body.append(main)
    for element in page.iter():
        if element.tag == "h1":
            SubElement(main, "h1").text = "".join(element.itertext())
        elif element.get("id") and element.tag in ("h2", "h3"):
            SubElement(main, "a", {"id": element.get("id")})
    return root


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
