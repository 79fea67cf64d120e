"""Style sheets applied to drawings: the maker of the PDF styles the inside of a drawing by its own attributes alone."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from typing import Any, Final

from rigbook.handbook.paper.bind import SVG

PAINTED: Final = re.compile(
    r"(fill|stroke)(-.+)?|opacity|font-(family|size|weight|style)|text-anchor|dominant-baseline|letter-spacing|display"
    r"|visibility|paint-order"
)
"""Properties that a drawing is painted with; all others are the page's concern."""
Rule = tuple[Any, list[tuple[str, str]]]
"""Compiled selectors, and (property, value)."""
FONT: Final = "Liberation Sans, DejaVu Sans, sans-serif"


def ink(root: Any, rules: Sequence[Rule]) -> None:
    """Write the style of each element of each drawing of a document into the element itself."""
    import cssselect2

    tokens = dict(token for _, declared in rules for token in declared if token[0].startswith("--"))
    matcher = cssselect2.Matcher()
    for selectors, declared in rules:
        kept = [(n, resolved(v, tokens)) for n, v in declared if PAINTED.fullmatch(n)]
        for selector in selectors if kept else ():
            if selector.pseudo_element is None:
                matcher.add_selector(selector, kept)
    for element in cssselect2.ElementWrapper.from_html_root(root).iter_subtree():
        node = element.etree_element
        if isinstance(node.tag, str) and node.tag.startswith(SVG):
            style: dict[str, str] = {}
            for _, _, _, declared in sorted(matcher.match(element), key=lambda m: m[:2]):
                style.update(declared)
            if "stroke" in style.pop("paint-order", ""):
                style.pop("stroke", None)  # the halo of a word, which would be painted over the word
            written = node.get("style", "")
            if style:
                node.set("style", ";".join(f"{n}:{v}" for n, v in style.items()) + (f";{written}" if written else ""))


def printed(text: str) -> Iterator[Rule]:
    """Rules that hold on paper, in order."""
    import tinycss2

    yield from _rules(tinycss2.parse_stylesheet(text, skip_comments=True, skip_whitespace=True))


def _rules(rules: Iterable[Any]) -> Iterator[Rule]:
    import cssselect2
    import tinycss2

    for rule in rules:
        if rule.type == "at-rule" and rule.lower_at_keyword == "media" and rule.content is not None:
            if tinycss2.serialize(rule.prelude).strip() in ("print", "all"):
                yield from _rules(tinycss2.parse_rule_list(rule.content, skip_comments=True, skip_whitespace=True))
        elif rule.type == "qualified-rule":
            try:
                selectors = cssselect2.compile_selector_list(rule.prelude)
            except cssselect2.SelectorError:
                continue  # a selector for browsers only, such as `:popover-open`
            declared = tinycss2.parse_blocks_contents(rule.content, skip_comments=True, skip_whitespace=True)
            said = [d for d in declared if d.type == "declaration"]
            yield selectors, [(d.name, tinycss2.serialize(d.value).strip()) for d in said]


def resolved(value: str, tokens: dict[str, str]) -> str:
    """A value with its tokens replaced; fonts as the machine knows them."""
    for _ in range(4):  # a token may name another
        value = re.sub(r"var\(\s*(--[\w-]+)\s*(?:,[^()]*)?\)", lambda m: tokens.get(m[1], "#000"), value)
    return FONT if "system-ui" in value else value
