"""The languages there are: English in the code, the others read from their catalogues, and a mirror for testing."""

from __future__ import annotations

import datetime
import io
import re
from functools import lru_cache, partial
from pathlib import Path
from typing import TYPE_CHECKING, Final

from rigbook.handbook import mirror
from rigbook.handbook.tongue import ENGLISH, Tongue
from rigbook.language.keys.plan import LANGUAGES

if TYPE_CHECKING:
    from babel.messages.catalog import Catalog

HELD: Final = re.compile(r"(?<=\d) (?=(?:dB|Hz|kHz|ms|m|mm|V|A|W|h)\b|Ω|°C|%(?!\())")
LOCALE: Final = Path(__file__).resolve().parents[1] / "locale"
"""The catalogues: `rigbook.pot` with every message, `de/LC_MESSAGES/rigbook.po` with their translations."""


def tongue(language: str) -> Tongue:
    """The tongue of a language of `LANGUAGES`. KeyError where there is none."""
    if language not in LANGUAGES:
        raise KeyError(language)
    return ENGLISH if language == "en" else _made(language)


@lru_cache(maxsize=8)
def _made(language: str) -> Tongue:
    if language == mirror.LANGUAGE:
        template = catalogue(LOCALE / "rigbook.pot")
        every = {text for m in template for text in ((m.id,) if isinstance(m.id, str) else m.id)}
        return mirror.tongue(frozenset(every), tuple(_scripted(template)))

    import gettext

    from babel import Locale
    from babel.dates import format_date
    from babel.messages.mofile import write_mo

    said = catalogue(catalogue_file(language))
    compiled = io.BytesIO()
    write_mo(compiled, said)
    compiled.seek(0)
    known = gettext.GNUTranslations(compiled)

    def one(message: str) -> str:
        return _held(known.gettext(message))

    def many(singular: str, plural: str, number: int) -> str:
        return _held(known.ngettext(singular, plural, number))

    locale = Locale.parse(language, sep="-")

    def day(date: datetime.date) -> str:
        return str(format_date(date, "full", locale=locale))

    script = {message: one(message) for message in _scripted(said)}
    return Tongue(
        language,
        locale.text_direction,
        one,
        many,
        partial(_digits, language),
        day,
        tuple((message, text) for message, text in script.items() if text != message),
    )


def _held(message: str) -> str:
    """A message in which no line breaks between a number and its unit."""
    return HELD.sub("\u00a0", message)


def catalogue_file(language: str) -> Path:
    """The catalogue of a language."""
    return LOCALE / language / "LC_MESSAGES" / "rigbook.po"


def catalogue(path: Path) -> Catalog:
    """A catalogue as written."""
    from babel.messages.pofile import read_po

    with path.open("rb") as file:
        return read_po(file)


def _scripted(said: Catalog) -> list[str]:
    """Messages that some script uses."""
    return [str(m.id) for m in said if m.id and any(place.endswith(".js") for place, _ in m.locations)]


def _digits(language: str, number: str) -> str:
    """A number with the decimals that it has, by CLDR; without groups, for channels and kinds have numbers too."""
    from decimal import Decimal, InvalidOperation

    from babel.numbers import format_decimal

    sign = "+" if number.startswith("+") else ""
    try:
        value = Decimal(number)
    except InvalidOperation:
        return number
    places = -int(value.as_tuple().exponent)
    form = "0." + "0" * places if places > 0 else "0"
    return sign + str(format_decimal(value, format=form, locale=language, group_separator=False))
