"""Gather the handbook's own words from the sources, and bring the catalogue of each language up to them.

usage: python tests/helpers/catalogue.py [--missing]

Writes `compiler/rigbook/locale/rigbook.pot` and, below it, `de/LC_MESSAGES/rigbook.po` and the rest: new messages come
in without a translation, messages that are gone go. `--missing` lists what has no translation yet.
"""

from __future__ import annotations

import argparse
import ast
import io
import re
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from babel.messages.catalog import Catalog
from babel.messages.extract import extract
from babel.messages.pofile import read_po, write_po

sys.path.insert(0, str(Path(__file__).resolve().parents[2] / "compiler"))
from rigbook.checks.catalogue import explain, names
from rigbook.findings.place import NOWHERE
from rigbook.language.keys.plan import SHAPES
from rigbook.plan.gear import LIBRARY, Gear

ROOT = Path(__file__).resolve().parents[2]
LOCALE = ROOT / "compiler" / "rigbook" / "locale"
CALLS: dict[str, Any] = {"say": None, "phrase": None, "told": None, "_": None, "gettext": None, "count": (2, 3),
                         "counted": (2, 3), "ngettext": (1, 2), "many": (1, 2)}
"""How words are wrapped, and which arguments are messages."""
SOURCES = (("themes", "*.html", "jinja2.ext:babel_extract"), ("themes", "*.js", "javascript"))
"""What babel reads; Python is read here, for babel takes a variable called `count` for the call."""

OPTIONS: dict[str, tuple[tuple[str, Any], ...]] = {
    "*.html": (("trimmed", "true"), ("newstyle_gettext", "true"), ("trim_blocks", "true"), ("lstrip_blocks", "true"),
               ("silent", "false")),
    "*.js": (("parse_template_string", True),),
}


def gathered() -> Catalog:
    """Every message of the sources, in the order of the files, with the files that use it."""
    out = Catalog(project="rigbook", fuzzy=False, charset="utf-8", header_comment="# Words of the handbook's pages.")
    for path in sorted((ROOT / "compiler" / "rigbook").rglob("*.py")):
        for message in said_in(ast.parse(path.read_text("utf-8"))):
            out.add(message, locations=[(path.relative_to(ROOT).as_posix(), 0)])
    for folder, pattern, method in SOURCES:
        for path in sorted((ROOT / folder).rglob(pattern)):
            place = path.relative_to(ROOT).as_posix()
            with path.open("rb") as file:
                for _, message, _, _ in extract(method, file, keywords=CALLS, options=dict(OPTIONS.get(pattern, ()))):
                    if message and (isinstance(message, str) or all(message)):
                        out.add(message, locations=[(place, 0)])
    for place, title in (*check_titles(), *gear_titles(), *key_helps()):
        out.add(title, locations=[(place, 0)])
    for message in out:
        message.locations = sorted({(place, None) for place, _ in message.locations})  # type: ignore[misc]
    return out


def said_in(tree: ast.AST) -> list[str | tuple[str, ...]]:
    """The messages of a module, in its order: what stands as text where the calls take messages."""
    found: list[tuple[int, int, str | tuple[str, ...]]] = []
    for node in ast.walk(tree):
        match node:
            case ast.Call(func=ast.Name(id=name) | ast.Attribute(attr=name), args=args) if name in CALLS:
                wanted = [args[i - 1] for i in CALLS[name] or (1,) if i <= len(args)]
                texts = [a.value for a in wanted if isinstance(a, ast.Constant) and isinstance(a.value, str)]
                if texts and all(texts) and len(texts) == len(wanted):
                    found.append((node.lineno, node.col_offset, texts[0] if len(texts) == 1 else tuple(texts)))
    return [message for _, _, message in sorted(found, key=lambda f: f[:2])]


def check_titles() -> Iterator[tuple[str, str]]:
    """The first line of each check's docstring, with the file."""
    for name, group in names().items():
        yield f"compiler/rigbook/checks/{group}/{name.replace('-', '_')}.py", explain(name).title


def gear_titles() -> Iterator[tuple[str, str]]:
    """The title of each kind of the shipped library, as pages print it, with the file."""
    for path in sorted(LIBRARY.glob("*/*.yaml")):
        kind = Gear({}).find(path.stem, NOWHERE)
        assert kind is not None, path
        yield path.relative_to(ROOT).as_posix(), str(kind.title)


def key_helps() -> Iterator[tuple[str, str]]:
    """What a key is for, where a finding says so: of keys that must be there."""
    for shape in SHAPES:
        for key in shape.keys:
            if key.required:
                yield "compiler/rigbook/language/keys/__init__.py", key.help


def languages() -> list[str]:
    """Languages with a catalogue."""
    return sorted(p.parent.parent.name for p in LOCALE.glob("*/LC_MESSAGES/rigbook.po"))


def read(path: Path) -> Catalog:
    """A catalogue as written."""
    with path.open("rb") as file:
        return read_po(file)


def text(catalogue: Catalog) -> bytes:
    """A catalogue as it is written: no dates, no line numbers, the same bytes everywhere."""
    out = io.BytesIO()
    write_po(out, catalogue, width=118, omit_header=False, sort_output=False, ignore_obsolete=True)
    dropped = (b'"POT-Creation-Date', b'"PO-Revision-Date', b'"Last-Translator', b'"Generated-By', b'"Language-Team',
               b'"Report-Msgid-Bugs-To')
    return b"".join(line for line in out.getvalue().splitlines(keepends=True) if not line.startswith(dropped))


TYPED = re.compile(r"(`[^`]*`)")
UNIT = r"(?=(?:dBu|dBFS|dB|Hz|kHz|MHz|GHz|ms|s|mm²?|cm|km|m|kV|V|A|kW|W|h|min|kg|Ω|°C|%%|%(?!\())(?![\w²-]))"
SPACED = (
    ("", re.compile(rf"(?<=[\d)][s\d])[ \u00a0]{UNIT}|(?<=\d)[ \u00a0]{UNIT}"), "\u00a0"),
    ("fr", re.compile(r"[ \u00a0\u202f]+(?=[;!?])"), "\u202f"),
    ("fr", re.compile(r"[ \u00a0\u202f]+(?=[:»])|(?<=«)[ \u00a0\u202f]+"), "\u00a0"),
)
"""Spaces that do not break: before a unit in every language; in French before signs (Lexique des règles typographiques
en usage à l'Imprimerie nationale: a thin one before ; ! ?, a full one before : and within « »)."""


def spaced(language: str, said: str) -> str:
    """A translation with its spaces as its language sets them; what stands between backticks is typed, and left."""
    out = []
    for part in TYPED.split(said):
        typed = part[:1] == "`" and part[-1:] == "`" and len(part) > 1
        text = re.sub("[\u00a0\u202f]", " ", part) if typed else part
        for code, pattern, space in () if typed else SPACED:
            text = pattern.sub(space, text) if code in ("", language) else text
        out.append(text)
    return "".join(out)


def updated(language: str, template: Catalog) -> Catalog:
    """The catalogue of a language with the messages of the template, in its order; translations that fit are kept, and
    their spaces set.
    """
    old = read(LOCALE / language / "LC_MESSAGES" / "rigbook.po")
    new = Catalog(locale=language, project="rigbook", fuzzy=False, charset="utf-8",
                  header_comment=template.header_comment)
    for message in template:
        if message.id:
            known = old.get(message.id) if not isinstance(message.id, tuple) else old.get(message.id[0])
            string = known.string if known is not None and type(known.id) is type(message.id) else ""
            if string:
                string = spaced(language, string) if isinstance(string, str) else [spaced(language, t) for t in string]
            new.add(message.id, string or ("" if isinstance(message.id, str) else ("",) * new.num_plurals),
                    locations=message.locations)
    return new


def missing(catalogue: Catalog) -> list[str]:
    """Messages without a whole translation."""
    return [str(m.id) for m in catalogue if m.id and not (all(m.string) if isinstance(m.string, tuple) else m.string)]


def main() -> int:
    """Write the catalogues."""
    parser = argparse.ArgumentParser(description=str(__doc__).partition("\n")[0])
    parser.add_argument("--missing", action="store_true", help="list what has no translation yet")
    options = parser.parse_args()
    template = gathered()
    (LOCALE / "rigbook.pot").write_bytes(text(template))
    for language in languages():
        new = updated(language, template)
        (LOCALE / language / "LC_MESSAGES" / "rigbook.po").write_bytes(text(new))
        lacking = missing(new)
        sys.stdout.write(f"{language}: {len(new)} messages, {len(lacking)} without a translation\n")
        if options.missing:
            sys.stdout.write("".join(f"  {m}\n" for m in lacking))
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
