"""A built page as a small tree, to read and to follow links in."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from html.parser import HTMLParser

VOID = frozenset(("area", "base", "br", "col", "hr", "img", "input", "link", "meta", "source", "wbr"))
BLOCKS = frozenset(("tr", "li", "div", "p", "article", "dd", "section"))


@dataclass
class Node:
    """An element; text stands among its children as strings."""

    tag: str
    attributes: dict[str, str]
    children: list[Node | str] = field(default_factory=list)

    def every(self) -> Iterator[Node]:
        """This element and all inside it, in the order of the page."""
        yield self
        for child in self.children:
            if isinstance(child, Node):
                yield from child.every()

    @property
    def text(self) -> str:
        """What is read, with single spaces."""
        return " ".join("".join(self._texts()).split())

    def _texts(self) -> Iterator[str]:
        for child in self.children:
            if isinstance(child, str):
                yield child
            elif child.tag not in ("script", "style", "title", "template"):
                yield from child._texts()
        if self.tag in BLOCKS or self.tag in ("td", "th", "dt", "h2", "h3", "br", "small"):
            yield " "

    def by_id(self, ident: str) -> Node | None:
        """The element of that id."""
        return next((n for n in self.every() if n.attributes.get("id") == ident), None)

    def smallest(self, *words: str) -> Node | None:
        """The smallest block that holds all the words, as whole names."""
        found = [n for n in self.every() if n.tag in BLOCKS and all(holds(n.text, w) for w in words)]
        return min(found, key=lambda n: len(n.text), default=None)

    def links(self) -> Iterator[tuple[str, str]]:
        """(text, address) of every link."""
        for node in self.every():
            if node.tag == "a" and "href" in node.attributes:
                yield node.text, node.attributes["href"]


def holds(text: str, word: str) -> bool:
    """True where a text holds a word that is no part of a longer name."""
    return re.search(rf"(?<![\w/-]){re.escape(word)}(?![\w/-])", text) is not None


class _Reader(HTMLParser):
    def __init__(self) -> None:
        super().__init__()
        self.stack = [Node("", {})]

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        node = Node(tag, {name: value or "" for name, value in attrs})
        self.stack[-1].children.append(node)
        if tag not in VOID:
            self.stack.append(node)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.stack[-1].children.append(Node(tag, {name: value or "" for name, value in attrs}))

    def handle_endtag(self, tag: str) -> None:
        at = next((n for n in range(len(self.stack) - 1, 0, -1) if self.stack[n].tag == tag), 0)
        if at:
            del self.stack[at:]

    def handle_data(self, data: str) -> None:
        self.stack[-1].children.append(data)


def read(html: str) -> Node:
    """The tree of a page."""
    reader = _Reader()
    reader.feed(html)
    return reader.stack[0]
