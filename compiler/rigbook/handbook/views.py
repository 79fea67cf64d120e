"""Who may read what. Three views of one plan: crew, guest (visiting engineer), public.

The crew reads everything. A guest reads the rig whole, and of texts, notes and contacts those marked for guests or for
everyone; besides, the hazards and the access of the room, which cannot be marked and which a visitor must know.
The public reads what is marked public, and of the rest only what the event announces itself by: title, venue, date,
doors, and the figures of the room. A text without a mark, or one that cannot be marked, is read by the crew alone.
"""

from __future__ import annotations

from typing import Final

from rigbook.language.keys.rig import VIEWS
from rigbook.language.record import Record

CREW, GUEST, PUBLIC = VIEWS
INSIDE: Final = (CREW, GUEST)
"""The views of people who work on the stage."""


def may_read(view: str, mark: str) -> bool:
    """True where a reader of `view` may read what is marked `mark`: for itself, or for more people than itself."""
    return VIEWS.index(mark) >= VIEWS.index(view)


def shows(view: str, record: Record) -> bool:
    """True where a view may show a record; without a mark it is for the crew."""
    return may_read(view, str(record.get("for", CREW)))
