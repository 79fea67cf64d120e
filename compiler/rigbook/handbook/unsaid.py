"""What a plan does not state, and which figures are therefore not there: on Speakers, counted on the front page."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from rigbook.compute.results import Results
    from rigbook.handbook.book import Book


def unsaid(book: Book, got: Results) -> Iterator[str]:
    """One line for each thing that the plan would have to state for a figure that is not there."""
    say = book.say
    unplaced = [b.name for b in got.boxes.all if got.places.unit(b.name) is None]
    if unplaced:
        yield say("`at` of %(boxes)s, such as `4 m left, 1 m out, 3 m up`: plan, section, delays and levels",
                  boxes=", ".join(f"`{n}`" for n in unplaced))  # fmt: skip
    if not got.levels.areas:
        yield say("`audience` of the room, such as `floor: {from: 4 m left 3 m out, to: 4 m right 14 m out}`: "
                  "levels, coverage and aims")  # fmt: skip
    elif not got.levels.known:
        yield say("a placed main box whose kind states its sensitivity and power, or its peak level: levels and aims")
    if got.places.mix is None:
        yield say("`mix-position` of the room: time alignment of the subs, and the level of the show where it is mixed")
    if not got.boxes_in_room:
        yield say("`reverberation-time` and `size` or `volume` of the room, and placed boxes: critical distance")
    if not got.loops:
        yield say("`at` of the microphones, beside levels: gain before feedback")
    if book.plan.get("length") is None:
        yield say("`length` of the show: dose and daily exposure")
