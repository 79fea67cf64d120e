"""People to ask, those that a view may know of."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, NamedTuple

from rigbook.handbook.anchors import anchor
from rigbook.language.record import Record

if TYPE_CHECKING:
    from rigbook.handbook.book import Book


class Contact(NamedTuple):
    """A person to ask."""

    role: str
    anchor: str
    name: str
    does: str
    phone: str
    dial: str
    """The phone number as a link; empty where it cannot be dialled, such as an extension."""
    mail: str


def contacts(book: Book) -> tuple[Contact, ...]:
    """Contacts that the view may show, in plan order."""
    found = (e for e in book.plan.sections.get("contacts", ()) if isinstance(e.value, Record))
    return tuple(contact(e.name, e.value) for e in found if book.shows(e.value))


def contact(role: str, record: Record) -> Contact:
    """A contact."""
    phone = str(record.get("phone") or "")
    dialled = re.sub(r"[ ()./-]", "", phone)
    return Contact(
        role,
        anchor("contact", role),
        str(record.get("name") or ""),
        str(record.get("does") or ""),
        phone,
        f"tel:{dialled}" if re.fullmatch(r"\+?\d{5,15}", dialled) else "",
        str(record.get("mail") or ""),
    )
