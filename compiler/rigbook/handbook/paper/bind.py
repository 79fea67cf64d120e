"""A page of a built handbook as a section of one document: links between pages lead inside it."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from typing import Any, Final
from xml.etree.ElementTree import Element, SubElement

from rigbook.handbook.site import Leaf

SVG: Final = "{http://www.w3.org/2000/svg}"
SCREEN_ONLY: Final = ("script", "style", "link", "button", "template", "dialog", "nav", "fieldset")
PAGE_LINK: Final = re.compile(r"([\w.-]+)\.html(?:#(.*))?")


def parse(data: bytes) -> Any:
    """A page as an element tree. Elements carry no namespace but those of drawings."""
    import tinyhtml5

    return tinyhtml5.parse(data.decode("utf-8"), namespace_html_elements=False)


def styles(page: Any, files: Mapping[str, bytes]) -> list[str]:
    """The style sheets of a page in order: those that it names, and those that it holds."""
    out = []
    for head in page.iter("head"):
        for element in head:
            if element.tag == "style":
                out.append(element.text or "")
            elif element.tag == "link" and element.get("rel") == "stylesheet":
                out.append(files.get(element.get("href", ""), b"").decode("utf-8"))
    return out


def bind(page: Any, leaf: Leaf, leaves: Sequence[Leaf], title: str) -> Any:
    """A page as a section of a book of that title: its title block and its text, with names of its own for its places.
    A link may lead to any of the leaves. The page is used up.
    """
    root = Element("html", {"lang": page.get("lang", "en"), "dir": page.get("dir", "ltr")})
    SubElement(SubElement(root, "head"), "title").text = title
    body = SubElement(root, "body", {"class": f"on-{leaf.slug}", "id": leaf.slug})
    block = next((e for e in page.iter("header") if "title-block" in e.get("class", "")), None)
    text = next(page.iter("main"), None)
    body.extend(part for part in (block, text) if part is not None)
    strip(body)
    numbers = {other.slug: other.number for other in leaves}
    for element in body.iter():
        if element is not body and element.get("id"):
            element.set("id", f"{leaf.slug}.{element.get('id')}")
        if frame := element.get("clip-path"):
            element.set("clip-path", frame.replace("url(#", f"url(#{leaf.slug}."))
        if element.tag in ("a", SVG + "a"):
            lead(element, leaf.slug, numbers)
        elif element.tag == SVG + "svg":
            name(element, page)
    if leaf is leaves[0] and text is not None:
        contents(text, leaves[1:])
    return root


def contents(text: Any, leaves: Sequence[Leaf]) -> None:
    """The list of the sections, below the heading of the first."""
    if not leaves:
        return
    listed = Element("ol", {"class": "sheets"})
    for leaf in leaves:
        link = SubElement(SubElement(listed, "li"), "a", {"href": f"#{leaf.slug}"})
        SubElement(link, "span", {"class": "num"}).text = str(leaf.number)
        link[0].tail = f" {leaf.title}"
    place = next((n for n, e in enumerate(text) if e.tag == "h1"), -1)
    text.insert(place + 1, listed)


def strip(element: Any) -> None:
    """Take out what only works on a screen; text that follows it stays."""
    for child in list(element):
        if child.tag in SCREEN_ONLY or child.get("hidden") is not None:
            place = list(element).index(child)
            element.remove(child)
            if child.tail and place:
                element[place - 1].tail = (element[place - 1].tail or "") + child.tail
            elif child.tail:
                element.text = (element.text or "") + child.tail
        else:
            strip(child)


def lead(link: Any, slug: str, numbers: Mapping[str, int]) -> None:
    """A link to a page of the handbook leads inside the document, and says the number of another section; a link to any
    other file is none on paper.
    """
    href = link.get("href", "")
    got = PAGE_LINK.fullmatch(href)
    if got and got[1] in numbers:
        link.set("href", f"#{got[1]}.{got[2]}" if got[2] else f"#{got[1]}")
        if got[1] != slug and link.tag == "a":
            link.set("data-sheet", str(numbers[got[1]]))
    elif href.startswith("#"):
        link.set("href", f"#{slug}.{href[1:]}")
    elif href and not href.startswith(("mailto:", "tel:")):
        del link.attrib["href"]


def name(drawing: Any, page: Any) -> None:
    """A drawing's title as its alternative text: its own, else what it is labelled with."""
    if drawing.find(SVG + "title") is not None:
        return
    label = drawing.get("aria-label")
    if not label:
        ids = drawing.get("aria-labelledby", "").split()
        label = " ".join("".join(e.itertext()) for i in ids for e in page.iter() if e.get("id") == i)
    title = Element(SVG + "title")
    title.text = label or "drawing"
    drawing.insert(0, title)
