"""The pages of a built handbook bound to one document: links between them lead inside it."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Mapping
from typing import Any, Final
from xml.etree.ElementTree import Element, SubElement

SVG: Final = "{http://www.w3.org/2000/svg}"
SCREEN_ONLY: Final = ("script", "style", "link", "button", "template", "dialog", "nav")
PAGE_LINK: Final = re.compile(r"([\w.-]+)\.html(?:#(.*))?")


def parse(data: bytes) -> Any:
    """A page as an element tree. Elements carry no namespace but those of drawings."""
    import tinyhtml5

    return tinyhtml5.parse(data.decode("utf-8"), namespace_html_elements=False)


def styles(pages: Mapping[str, Any], files: Mapping[str, bytes]) -> list[str]:
    """Style sheets that the pages name, each once, in the order in which a later one goes before.

    A sheet that only some pages name holds on these alone: two pages may use one word for unlike things.
    """
    named: dict[str, list[str]] = {}
    for slug, page in pages.items():
        for link in (e for e in page.iter("link") if e.get("rel") == "stylesheet"):
            named.setdefault(link.get("href", ""), []).append(slug)
    last = [n for n in named if n.endswith("/print.css")]
    out = []
    for name in (*(n for n in named if n not in last), *last):
        text = files[name].decode("utf-8") if name in files else ""
        out.append(text if len(named[name]) == len(pages) else scoped(text, named[name]))
    return out


def scoped(text: str, slugs: Iterable[str]) -> str:
    """A style sheet that holds on some pages alone, no rule of it stronger or weaker for that."""
    import tinycss2

    where = f":where({', '.join(f'.on-{slug}' for slug in slugs)}) "
    return _scoped(tinycss2.parse_stylesheet(text, skip_comments=True, skip_whitespace=True), where)


def _scoped(rules: Iterable[Any], where: str) -> str:
    import tinycss2

    out = []
    for rule in rules:
        if rule.type == "qualified-rule":
            heads: list[list[Any]] = [[]]
            for token in rule.prelude:
                heads.append([]) if token == "," else heads[-1].append(token)
            texts = [tinycss2.serialize(head).strip() for head in heads]
            selectors = ", ".join(t if t.startswith((":root", "html")) else where + t for t in texts)
            out.append(f"{selectors} {{{tinycss2.serialize(rule.content)}}}")
        elif rule.type == "at-rule" and rule.lower_at_keyword in ("media", "supports") and rule.content is not None:
            inside = tinycss2.parse_rule_list(rule.content, skip_comments=True, skip_whitespace=True)
            head = f"@{rule.at_keyword}{tinycss2.serialize(rule.prelude)}"
            out.append(f"{head}{{{_scoped(inside, where)}}}")
        elif rule.type != "error":
            out.append(rule.serialize())
    return "\n".join(out)


def bind(pages: Mapping[str, Any], known: Collection[str], language: tuple[str, str], title: str) -> Any:
    """One document of the pages given by slug. `known` are the slugs that a link may lead to; (language, direction) and
    title are those of the handbook. The pages are used up.
    """
    root = Element("html", {"lang": language[0], "dir": language[1]})
    SubElement(SubElement(root, "head"), "title").text = title
    body = SubElement(root, "body", {"class": "bound"})
    for slug, page in pages.items():
        body.append(sheet(slug, page, known))
    if len(pages) > 1:
        contents(body)
    return root


def contents(body: Any) -> None:
    """The list of the pages, below the heading of the first."""
    heads = [(s.get("id"), next(s.iter("h1"), None)) for s in body]
    first = body[0].find("main")
    listed = Element("ol", {"class": "sheets"})
    for slug, head in heads[1:]:
        link = SubElement(SubElement(listed, "li"), "a", {"href": f"#{slug}"})
        link.text = "".join(head.itertext()).strip() if head is not None else slug
    place = next((n for n, e in enumerate(first) if e.tag == "h1"), -1)
    first.insert(place + 1, listed)


def sheet(slug: str, page: Any, known: Collection[str]) -> Any:
    """The title block and the text of one page, with names of its own for its places."""
    out = Element("section", {"class": f"sheet on-{slug}", "id": slug})
    block = next((e for e in page.iter("header") if "title-block" in e.get("class", "")), None)
    text = next(page.iter("main"), None)
    out.extend(part for part in (block, text) if part is not None)
    strip(out)
    for element in out.iter():
        if element is not out and element.get("id"):
            element.set("id", f"{slug}.{element.get('id')}")
        if frame := element.get("clip-path"):
            element.set("clip-path", frame.replace("url(#", f"url(#{slug}."))
        if element.tag in ("a", SVG + "a"):
            lead(element, slug, known)
        elif element.tag == SVG + "svg":
            name(element, page)
    return out


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


def lead(link: Any, slug: str, known: Collection[str]) -> None:
    """A link to a page of the handbook leads inside the document; a link to any other file is none on paper."""
    href = link.get("href", "")
    got = PAGE_LINK.fullmatch(href)
    if got and got[1] in known:
        link.set("href", f"#{got[1]}.{got[2]}" if got[2] else f"#{got[1]}")
        if got[1] != slug and link.tag == "a":
            link.set("class", f"{link.get('class', '')} xref".strip())
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
