"""Markdown notes to HTML: CommonMark and tables, no raw HTML, nothing that a page would load from elsewhere."""

from __future__ import annotations

import re
from collections.abc import Callable
from functools import lru_cache
from typing import TYPE_CHECKING
from urllib.parse import unquote

from rigbook.findings.finding import Finding, Label, Severity
from rigbook.findings.place import Source, Span
from rigbook.text.phrase import phrase

if TYPE_CHECKING:
    from markdown_it import MarkdownIt
    from markdown_it.rules_inline import StateInline
    from markdown_it.token import Token

Lookup = Callable[[str], str | None]

_SCHEMES = ("http", "https", "mailto", "tel")
_PLAN_LINK = re.compile(r"\[\[([^\[\]\n|]{1,200})\]\]")


def render(
    text: str,
    span: Span,
    *,
    picture: Lookup,
    link: Lookup | None = None,
    source: Source | None = None,
    top: int = 2,
) -> tuple[str, list[Finding]]:
    """A note as HTML, and what is wrong with its links and pictures.

    Args:
        text: the Markdown.
        span: where it stands in the plan.
        picture: the address of a picture on the page, from its path as typed; None where the repository has none.
        link: the address of a thing of the plan, from its name typed as `[[name]]`; None where there is none.
            Without it, double brackets are plain text.
        source: the file of the note; with it, a finding points at the link itself and not at the whole note.
        top: the heading level that `#` becomes, so that the page keeps its outline.
    """
    parser = _parser()
    tokens = parser.parse(text, {"plan links": link is not None})
    work = _Note(_Places(text, span, source), picture, link)
    for token in tokens:
        if token.type in ("heading_open", "heading_close"):
            token.tag = f"h{min(int(token.tag[1]) + top - 1, 6)}"
        elif token.type in ("th_open", "td_open"):
            _align(token)
        elif token.children:
            token.children = work.checked(token.children)
    html: str = parser.renderer.render(tokens, parser.options, {})
    return html, work.findings


class _Note:
    """One note on its way through: looks at each link and picture, and takes out what may not stay."""

    def __init__(self, places: _Places, picture: Lookup, link: Lookup | None) -> None:
        self.findings: list[Finding] = []
        self._places = places
        self._picture = picture
        self._link = link

    def checked(self, tokens: list[Token]) -> list[Token]:
        """The inline tokens without refused links and pictures; their words stay."""
        out: list[Token] = []
        kept: list[bool] = []
        for at, token in enumerate(tokens):
            if token.type == "link_open":
                words = "".join(t.content for t in tokens[at + 1 :][:3])
                kept.append(self._keeps_link(token, words))
                out += [token] if kept[-1] else []
            elif token.type == "link_close":
                out += [token] if kept.pop() else []
            elif token.type == "image":
                out += self._shown(token)
            else:
                out.append(token)
        return out

    def _keeps_link(self, token: Token, words: str) -> bool:
        href = str(token.attrs["href"])
        if token.info == "plan":
            url = self._link(token.meta["name"]) if self._link else None
            if url is None:
                name = token.meta["name"]
                fix = phrase("write the name of something in the plan, or take the double brackets away")
                self._add(
                    "broken-link", phrase("nothing in the plan is called `%(name)s`", name=name), fix, f"[[{name}]]"
                )
                return False
            token.attrs = {"href": url}
            return True
        why = refused(href)
        if why:
            fix = phrase("link to a web page (`https:`), a mail address, a telephone number or a page of the handbook")
            self._add("note-link-refused", why, fix, unquote(href), href, words)
        return not why

    def _shown(self, token: Token) -> list[Token]:
        path = unquote(str(token.attrs["src"]))
        if refused(path) or re.match(r"[\w+.-]+:", path):
            fix = phrase("put the picture into the repository and write its path from the plan file")
            self._add(
                "note-link-refused",
                phrase("the picture `%(path)s` does not lie in the repository", path=path),
                fix,
                path,
            )
            return _words(token)
        url = self._picture(path)
        if url is None:
            fix = phrase("check the path: it counts from the plan file, and capitals matter")
            self._add("missing-picture", phrase("there is no picture `%(path)s`", path=path), fix, path)
            return _words(token)
        token.attrs["src"] = url
        return [token]

    def _add(self, check: str, message: str, remedy: str, *words: str) -> None:
        at = self._places.find(*words)
        self.findings.append(Finding(check, Severity.ERROR, message, Label(at), remedy=remedy))


class _Places:
    """Finds where a link was typed: the parser gives its block at best, so the text is searched, in reading order."""

    def __init__(self, text: str, span: Span, source: Source | None) -> None:
        self._span = span
        lines = source.lines[span.line : span.end_line + 1] if source else ()
        if source is None and span.line == span.end_line and "\n" not in text.strip("\n"):
            lines = (" " * span.column + text,)
        self._lines = lines
        self._from = (0, span.column)

    def find(self, *words: str) -> Span:
        """The first of `words` that stands behind the last find, else anywhere in the note, else the whole note."""
        for start in (self._from, (0, 0)):
            for word in filter(None, words):
                for number, line in enumerate(self._lines[start[0] :], start[0]):
                    column = line.find(word, start[1] if number == start[0] else 0)
                    if column >= 0:
                        self._from = (number, column + len(word))
                        row = self._span.line + number
                        return Span(self._span.file, row, column, row, column + len(word))
        return self._span


def refused(url: str) -> str:
    """Why an address may not stand in a note, as a finding says it; empty where it may."""
    bare = re.sub(r"[\x00-\x20]", "", url)
    scheme = re.match(r"([^/?#:]*):", bare)
    if scheme and scheme.group(1).lower() not in _SCHEMES:
        return phrase("`%(scheme)s:` is not allowed in a link", scheme=scheme.group(1))
    if not scheme and re.match(r"[/\\]", unquote(bare)):
        return phrase("an address that begins with a slash leads out of the handbook in a link")
    return ""


def _words(image: Token) -> list[Token]:
    """What stands for a picture that is not shown: its description, without the links that it may hold."""
    return [t for t in image.children or [] if t.type in ("text", "text_special", "code_inline", "softbreak")]


def _align(token: Token) -> None:
    """Alignment as a class: pages forbid styles in attributes."""
    style = str(token.attrs.pop("style", ""))
    if style:
        token.attrs["class"] = style.replace("text-align:", "align-")


def _plan_link(state: StateInline, silent: bool) -> bool:
    """`[[name]]`."""
    m = _PLAN_LINK.match(state.src, state.pos) if state.env.get("plan links") else None
    if m is None:
        return False
    if not silent:
        opened = state.push("link_open", "a", 1)
        opened.attrs, opened.info, opened.meta = {"href": ""}, "plan", {"name": m.group(1).strip()}
        state.push("text", "", 0).content = m.group(1).strip()
        state.push("link_close", "a", -1)
    state.pos = m.end()
    return True


@lru_cache(maxsize=1)
def _parser() -> MarkdownIt:
    """Made once: it holds rules only, and each note brings its own state."""
    from markdown_it import MarkdownIt  # late: a fifth of a cold `check` that has no note to read

    parser = MarkdownIt("commonmark", {"html": False}).enable("table")
    parser.inline.ruler.before("link", "plan_link", _plan_link)
    parser.validateLink = _any_link  # type: ignore[method-assign]
    return parser


def _any_link(url: str) -> bool:
    """The parser takes every address: refusing is ours, so that it comes with a finding."""
    return True
