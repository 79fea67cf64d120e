"""What a venue puts on a theme by a few lines of `theme.yaml`: its logo, its colours, its own words."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from pathlib import Path
from types import MappingProxyType
from typing import TYPE_CHECKING, Any, Final

from rigbook.findings.place import Span
from rigbook.findings.suggest import near
from rigbook.handbook.tokens import Rule, Token
from rigbook.records import field, frozen

if TYPE_CHECKING:
    from yaml import MappingNode, Node

ACCENT: Final = ("accent", "link", "focus")
"""Tokens that `accent` sets: the bar below the title block, links, and the frame of what has the focus."""
WORDS: Final = ("title", "footer")
"""Words of the venue: beside the title of every page, and at its foot."""
MODES: Final = ("light", "dark")
MOST: Final = 200_000
"""Bytes of a logo: it is carried to every phone."""
PNG: Final = b"\x89PNG\r\n\x1a\n"


class BrandError(Exception):
    """A line of `theme.yaml` cannot be used; the message says why and what to do."""


@frozen
class Brand:
    """Logo, colours and words of a theme and what it extends, the nearest first."""

    logo: str = ""
    """Name of the logo's file in the handbook; empty where there is none."""
    files: Mapping[str, bytes] = field(default_factory=lambda: MappingProxyType({}))
    words: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}))
    colours: tuple[Mapping[str, Mapping[str, Token]], ...] = ()
    """For each layer that sets some, the furthest first: tokens for light and for dark."""

    def rules(self, mode: str) -> Iterator[Rule]:
        """The colours as rules that follow the theme's own tokens. `mode` is the theme's: system, light or dark."""
        usual = "dark" if mode == "dark" else "light"
        for layer in self.colours:
            yield Rule((":root",), "", layer[usual])
            if mode == "system":
                yield Rule((':root:not([data-mode="light"])',), "dark", layer["dark"])
            for chosen in MODES:
                yield Rule((f':root[data-mode="{chosen}"]',), "", layer[chosen])

    def style(self, mode: str) -> str:
        """The colours as a style sheet; empty where there are none."""
        out = []
        for rule in self.rules(mode):
            body = " ".join(f"--{name}: {token.value};" for name, token in rule.tokens.items())
            text = f"{', '.join(rule.selectors)} {{ {body} }}"
            out.append(f"@media screen and (prefers-color-scheme: {rule.scheme}) {{ {text} }}" if rule.scheme else text)
        return "\n".join(f"{line}\n" for line in out).replace("\n\n", "\n")


def brand_of(folder: Path, said: Mapping[str, Any], file: str, under: Brand, known: frozenset[str]) -> Brand:
    """What a folder's `theme.yaml` says, on what the themes below it say. BrandError where a line cannot be used."""
    marks = _Marks(folder / "theme.yaml", file) if said else None
    words = dict(under.words)
    for name, text in _group(said, "words", marks).items():
        if name not in WORDS:
            raise BrandError(f"{_at(marks, 'words', name)}: there is no word `{name}`; {_hint(name, WORDS)}")
        words[name] = str(text)
    colours = _colours(said, marks, known)
    logo, files = under.logo, dict(under.files)
    if said.get("logo"):
        name, data = _logo(folder, str(said["logo"]), _at(marks, "logo"))
        logo, files = f"static/{name}", {f"static/{name}": data}
    layers = (*under.colours, colours) if colours else under.colours
    return Brand(logo, MappingProxyType(files), MappingProxyType(words), layers)


class _Marks:
    """Where the keys of a `theme.yaml` stand."""

    def __init__(self, path: Path, file: str) -> None:
        import yaml

        self.file = file
        top = yaml.compose(path.read_text(encoding="utf-8"), Loader=yaml.SafeLoader)
        self.top: MappingNode | None = top if isinstance(top, yaml.MappingNode) else None

    def span(self, *keys: str) -> Span:
        """The place of a key, or of the deepest group of it that there is."""
        import yaml

        node: Node | None = self.top
        span = Span(self.file, 0, 0, 0, 0)
        for key in keys:
            pairs = node.value if isinstance(node, yaml.MappingNode) else ()
            found = next(((k, v) for k, v in pairs if k.value == key), None)
            if found is None:
                break
            start, end = found[0].start_mark, found[1].end_mark
            one = end.line == start.line
            span = Span(self.file, start.line, start.column, start.line, end.column if one else start.column + len(key))
            node = found[1]
        return span


def _at(marks: _Marks | None, *keys: str) -> str:
    return marks.span(*keys).human() if marks else ""


def _hint(name: str, known: tuple[str, ...] | frozenset[str]) -> str:
    close = near(name, sorted(known))
    return f"did you mean `{close[0]}`?" if close else "there are " + ", ".join(f"`{k}`" for k in sorted(known))


def _group(said: Mapping[str, Any], key: str, marks: _Marks | None) -> Mapping[str, Any]:
    got = said.get(key) or {}
    if not isinstance(got, dict):
        raise BrandError(f"{_at(marks, key)}: `{key}` holds `key: value` lines")
    return got


def _colours(
    said: Mapping[str, Any], marks: _Marks | None, known: frozenset[str]
) -> Mapping[str, Mapping[str, Token]] | None:
    """Tokens by mode: those of `accent`, then those of `colours`; a value without modes is meant for both."""
    out: dict[str, dict[str, Token]] = {mode: {} for mode in MODES}
    wanted: list[tuple[str, Any, tuple[str, ...]]]
    wanted = [(token, said["accent"], ("accent",)) for token in ACCENT if said.get("accent")]
    wanted += [(str(n), value, ("colours", str(n))) for n, value in _group(said, "colours", marks).items()]
    for token, value, keys in wanted:
        if token not in known:
            raise BrandError(f"{_at(marks, *keys)}: there is no token `{token}`; {_hint(token, known)}")
        for mode in MODES:
            if isinstance(value, dict) and mode not in value:
                continue
            own, path = (value[mode], (*keys, mode)) if isinstance(value, dict) else (value, keys)
            if not re.fullmatch(r"[#\w(),.%/ -]+", str(own)):
                raise BrandError(f'{_at(marks, *path)}: `{own}` is no colour; write it as `"#7a1f3d"`, in quotes')
            assert marks is not None
            out[mode][token] = Token(str(own), marks.span(*path))
    return out if any(out.values()) else None


def _logo(folder: Path, name: str, place: str) -> tuple[str, bytes]:
    """The file of a logo. It stays in the folder, is small, and a drawing asks for nothing and does nothing."""
    path = (folder / name).resolve()
    if not path.is_relative_to(folder.resolve()):
        raise BrandError(f"{place}: the logo `{name}` lies outside of the theme's folder; copy it there")
    if not path.is_file():
        beside = [p.name for p in folder.iterdir() if p.suffix in (".svg", ".png")]
        close = near(path.name, beside)
        raise BrandError(f"{place}: there is no logo `{name}`" + (f"; did you mean `{close[0]}`?" if close else ""))
    data = path.read_bytes()
    if len(data) > MOST:
        raise BrandError(f"{place}: the logo `{name}` has {len(data) // 1000} kB; {MOST // 1000} kB are allowed")
    if path.suffix == ".png" and data.startswith(PNG):
        return "brand-logo.png", data
    if path.suffix != ".svg":
        raise BrandError(f"{place}: the logo `{name}` is neither an SVG drawing nor a PNG picture")
    wrong = _wrong_in_svg(data)
    if wrong:
        raise BrandError(f"{place}: the logo `{name}` {wrong}; save it as a plain drawing")
    return "brand-logo.svg", data


def _wrong_in_svg(data: bytes) -> str:
    """Why a drawing is not taken: it may hold no program, and ask for nothing outside of itself. Empty where it may."""
    from xml.etree import ElementTree

    if b"<!ENTITY" in data or b"<!DOCTYPE" in data:
        return "declares a document type"
    try:
        root = ElementTree.fromstring(data)
    except ElementTree.ParseError as error:
        return f"cannot be read ({error})"
    if root.tag.rpartition("}")[2] != "svg":
        return "is no SVG drawing"
    for element in root.iter():
        tag = str(element.tag).rpartition("}")[2].lower()
        if tag in ("script", "foreignobject", "iframe", "handler", "set", "animate"):
            return f"holds a `{tag}` element"
        for name, value in element.attrib.items():
            bare = name.rpartition("}")[2].lower()
            if bare.startswith("on"):
                return f"holds a program (`{bare}`)"
            if bare in ("href", "src") and not value.startswith("#"):
                return f"asks for `{value[:40]}`"
        texts = (*element.attrib.values(), element.text or "" if tag == "style" else "")
        if any(re.search(r"url\(\s*['\"]?(?!#)|@import|javascript:", t, re.I) for t in texts):
            return "asks for another file"
    return ""
