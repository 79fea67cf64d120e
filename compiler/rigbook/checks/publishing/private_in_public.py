"""Something private in a text for others.

*What it finds*
A text marked `for: public` or `for: guest` that holds the telephone number or the mail address of a contact who is not
marked for the same readers; a public text with any mail address or telephone number that no public contact has.

*Why it matters on stage*
A private number stands on a page that everyone can read, and cannot be taken back.

*Put it right*
Take it out of the text, or mark the contact `for: public` if they agree.

*Fails*
    plan: 1
    show: Fails
    contacts: {Sound: {name: Ada, phone: 555 0142}}
    notes: {Doors: {text: "Locked? Ring Ada, 555 0142.", for: public}}

*Passes*
    plan: 1
    show: Passes
    contacts: {Sound: {name: Ada, phone: 555 0142}}
    notes: {Doors: {text: "Locked? Ring the bell.", for: public}}

*Source*
Common practice.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from types import MappingProxyType
from typing import Final

from rigbook.checks.publishing._notes import Text, texts
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.graph.rig import Rig
from rigbook.language.reading import part
from rigbook.language.record import Entry, Record
from rigbook.text.phrase import phrase

SEVERITY = Severity.ERROR
VIEWS = ("crew", "guest", "public")
MAIL = re.compile(r"[\w.+-]+@[\w-]+\.[\w.-]*\w")
PHONE = re.compile(r"(?<![\w.-])\+?\(?\d[\d ()/-]{5,}\d(?![\w-])")
"""Seven signs or more of digits with the usual signs between: no date, no clock, no size has that many."""
PUBLIC: Final = phrase("a text for everyone holds %(what)s")
GUEST: Final = phrase("a text for visiting engineers holds %(what)s")
OF: Final = MappingProxyType(
    {"phone": phrase("the telephone number of %(name)s"), "mail": phrase("the mail address of %(name)s")}
)
A_MAIL: Final = phrase("a mail address, `%(piece)s`")
A_PHONE: Final = phrase("a telephone number, `%(piece)s`")
DATE = re.compile(r"\d{4}-\d\d-\d\d")


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each text and each thing in it."""
    contacts = [
        e for e in rig.plan.sections.get("contacts", ()) if isinstance(e, Entry) and isinstance(e.value, Record)
    ]
    for text in texts(rig):
        if text.view == VIEWS[0]:
            continue
        plain = _digits(text.scalar.text)
        told: set[str] = set()
        for contact in contacts:
            for key in ("phone", "mail"):
                value = str(contact.value.get(key) or "")
                found = bool(value) and _holds(text.scalar.text, plain, value)
                if found:
                    told.add(_digits(value) if key == "phone" else value)
                if found and VIEWS.index(str(contact.value.get("for", "crew"))) < VIEWS.index(text.view):
                    yield _finding(
                        text,
                        value,
                        phrase(OF[key], name=contact.value.get("name")),
                        contact,
                        key,
                    )
        if text.view == "public":
            yield from _unknown(text, told)


def _holds(text: str, digits: str, value: str) -> bool:
    """The value stands in the text as typed, or its digits do with other signs between."""
    own = _digits(value)
    return bool(re.search(rf"(?<!\w){re.escape(value)}(?!\w)", text)) or (len(own) > 5 and own in digits)


def _unknown(text: Text, told: set[str]) -> Iterator[Finding]:
    for pattern, what in ((MAIL, A_MAIL), (PHONE, A_PHONE)):
        for m in pattern.finditer(text.scalar.text):
            if m.group() not in told and _digits(m.group()) not in told and not DATE.search(m.group()):
                yield _finding(text, m.group(), phrase(what, piece=m.group()), None, "")


def _finding(text: Text, piece: str, what: str, contact: Entry | None, key: str) -> Finding:
    public = text.view == "public"
    at = text.scalar.text.find(piece)
    other = (Label(contact.value.at(key), phrase("private here")),) if contact is not None else ()
    return Finding(
        "private-in-public",
        SEVERITY if contact is not None else Severity.WARNING,
        phrase(PUBLIC if public else GUEST, what=what),
        Label(
            part(text.scalar, at, len(piece)) if at >= 0 else text.scalar.span,
            f"`for: {text.view}`",
        ),
        other,
        effect=phrase("everyone can read it") if public else phrase("visiting engineers can read it"),
        remedy=phrase("take it out of the text, or mark the contact `for: %(view)s`", view=text.view),
        objects=frozenset({contact.name} if contact is not None else {what}),
    )


def _digits(text: str) -> str:
    return re.sub(r"[^\d]", "", text)
