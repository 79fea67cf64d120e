"""Pages to bytes, by the templates of a theme."""

from __future__ import annotations

import os
import traceback
from collections.abc import Callable, Iterable
from functools import lru_cache, partial
from pathlib import Path
from types import MappingProxyType
from typing import TYPE_CHECKING, Any, Final

from rigbook.handbook import anchors, words
from rigbook.handbook.named import carried, linked, places, sources
from rigbook.handbook.page import Page
from rigbook.handbook.site import Site
from rigbook.handbook.themes import Theme, ThemeError
from rigbook.handbook.tongue import Tongue
from rigbook.records import frozen
from rigbook.text.phrase import Phrase
from rigbook.units.quantity import Amount
from rigbook.units.told import Told

if TYPE_CHECKING:
    from jinja2 import BytecodeCache, Environment
    from jinja2.runtime import Context
    from markupsafe import Markup

    from rigbook.handbook.book import Book
    from rigbook.handbook.tongue import Tongue

BYTECODE: Final = "templates-3"
"""Folder of compiled templates. They hold how filters are called, so a change of that gets a new name here."""
WORDS: Final = MappingProxyType({"connector": words.CONNECTORS})


def render(pages: Iterable[Page], book: Book, site: Site, theme: Theme) -> dict[str, bytes]:
    """Every page by its file name. ThemeError, with the place in the template, where a template cannot be used."""
    theme.inside()
    templates = environment(theme.layers)
    out: dict[str, bytes] = {}
    named, heard = places(book), sources(book)
    made = frozenset(leaf.slug for leaf in site.leaves)
    catalogue = sayings(book.tongue)
    for page in pages:
        notes = book.notes_on(page.slug, made)
        try:
            template = templates.get_template(page.template)
            text = template.render(
                page=page.data,
                sheet=page,
                site=site,
                notes=notes,
                settings=theme.settings,
                brand=theme.brand,
                tongue=book.tongue,
                places=named,
                sources=heard,
                **catalogue,
            )
        except Exception as error:  # a template is a user's code: whatever it raises is told with its place
            raise ThemeError(_place(error, page, theme)) from error
        out[f"{page.slug}.html"] = text.encode("utf-8")
    return out


def _said(context: Context, value: Any) -> Any:
    """What is printed, in the language of the page: the other rooms speak English."""
    if value.__class__ is str or not isinstance(value, (Phrase, Amount, Told)):
        return value
    return context["tongue"].words(value)


def _css_text(context: Context, text: str) -> Markup:
    return css_text(context["tongue"].words(text))


def _code(context: Context, text: str) -> Markup:
    return code(context["tongue"].words(text))


def _named(context: Context, text: str) -> Markup:
    return linked(str(context["tongue"].words(text)), context["places"])


def _carried(context: Context, text: str) -> Markup:
    return carried(str(context["tongue"].words(text)), context["places"], context["sources"])


def _join(context: Context, parts: Iterable[Any], joint: str = "") -> Markup:
    from markupsafe import Markup

    return Markup(joint).join(context["tongue"].words(part) for part in parts)


@lru_cache(maxsize=4)
def environment(layers: tuple[tuple[str, Path], ...]) -> Environment:
    """The one environment. `{% extends "plain/base.html" %}` reaches the template of a named theme below this one."""
    from jinja2 import ChoiceLoader, Environment, FileSystemLoader, PrefixLoader, StrictUndefined, pass_context

    named = {name: FileSystemLoader(folder / "templates") for name, folder in reversed(layers)}
    made = Environment(
        loader=ChoiceLoader([FileSystemLoader([folder / "templates" for _, folder in layers]), PrefixLoader(named)]),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
        bytecode_cache=_bytecode(),
        finalize=pass_context(_said),
    )
    made.globals.clear()
    # `_("Leaves by")`: the words of a page come from the book's language, so one environment serves them all
    made.add_extension("jinja2.ext.i18n")
    made.newstyle_gettext = True  # type: ignore[attr-defined]
    made.filters.update(css_text=pass_context(_css_text), code=pass_context(_code), join=pass_context(_join))
    made.filters["named"] = pass_context(_named)
    made.filters["carried"] = pass_context(_carried)
    made.globals.update(anchor=anchors.anchor, href=anchors.href, words=WORDS)
    return made


def sayings(tongue: Tongue) -> dict[str, Any]:
    """What a template calls for a message in a language."""
    # `_` is there too: the extension's own would look up `gettext` at every call
    say = partial(spoken, tongue)
    return {"_": say, "gettext": say, "ngettext": partial(counted, tongue)}


def spoken(tongue: Tongue, message: str, **values: object) -> Markup:
    """A message of a template in the book's language, escaped, with its values put in; `%%` stands for one `%`."""
    own, plain = _message(tongue.one, str(message))
    return own % _filled(tongue, values) if values else plain


@lru_cache(maxsize=4096)
def _message(one: Callable[[str], str], message: str) -> tuple[Markup, Markup]:
    """A message in a language, to be filled and as it is: a table says the same word in each of its lines."""
    from markupsafe import escape

    # a call without values is not formatted, so that `_("80 %")` may say what it says
    own = escape(one(message))
    return own, own.replace("%%", "%")


def _filled(tongue: Tongue, values: dict[str, object]) -> dict[str, object]:
    return {name: tongue.words(value) for name, value in values.items()}


def counted(tongue: Tongue, singular: str, plural: str, number: int, **values: object) -> Markup:
    """A message of a template that counts: `{{ ngettext("%(num)s cable", "%(num)s cables", n) }}`."""
    from markupsafe import escape

    return escape(tongue.many(singular, plural, number)) % _filled(tongue, {"num": number, **values})


def css_text(text: str) -> Markup:
    """A text between double quotes in a style sheet: whatever is no letter, digit or space as its number."""
    from markupsafe import Markup

    return Markup("".join(c if c.isalnum() or c == " " else f"\\{ord(c):x} " for c in text))


def code(text: str) -> Markup:
    """A sentence with the names that stand between backticks marked as names."""
    from markupsafe import Markup, escape

    parts = str(text).split("`")
    if len(parts) % 2 == 0:
        return escape(text)
    return Markup("").join(Markup("<code>{}</code>").format(p) if i % 2 else escape(p) for i, p in enumerate(parts))


def _bytecode() -> BytecodeCache | None:
    """Compiled templates kept in the user's cache folder; none where that is not to be."""
    from rigbook.handbook.bytecode import Quiet

    folder = Path(os.environ.get("XDG_CACHE_HOME") or "~/.cache").expanduser() / "rigbook" / BYTECODE
    try:
        folder.mkdir(parents=True, exist_ok=True, mode=0o700)
    except OSError:
        return None
    return Quiet(str(folder))


@frozen
class _Spot:
    file: str
    line: int


def _place(error: Exception, page: Page, theme: Theme) -> str:
    """What is wrong and where: the deepest line of a template that was being worked on."""
    from jinja2 import TemplateNotFound, TemplateSyntaxError

    if isinstance(error, TemplateNotFound):
        return f"the theme `{theme.name}` has no template `{error.name}`, which the page `{page.slug}` needs"
    if isinstance(error, TemplateSyntaxError):
        spot = _Spot(error.filename or error.name or page.template, error.lineno)
    else:
        folders = tuple(str(folder) for _, folder in theme.layers)
        lines = [f for f in traceback.extract_tb(error.__traceback__) if f.filename.startswith(folders)]
        spot = _Spot(lines[-1].filename, lines[-1].lineno or 0) if lines else _Spot(page.template, 0)
    return f"{spot.file}:{spot.line}: {error} (page `{page.slug}`)"
