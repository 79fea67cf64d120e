"""Single faults of outboard equipment in the way of a channel or bus, and of the talkback to the stage."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator

from helpers.mutants import Edit, Mutant, Show, _made, item
from helpers.mutants_of_figures import within
from helpers.mutants_of_patch import whole_line
from rigbook.plan.insert import Insert
from rigbook.plan.model import Cable


def _inserts(show: Show) -> Iterator[tuple[str, Insert]]:
    for owner in (*show.plan.channels, *show.plan.buses.values()):
        if owner.insert is not None:
            yield owner.name, owner.insert


def _cables(show: Show, insert: Insert) -> Iterator[Cable]:
    """The cables to and from what is inserted, each alone on its line."""
    ends = {s.id for s in (*insert.sends, *insert.returns)}
    for cable in show.plan.cables:
        if {cable.start.id, cable.end.id} & ends and sum(c.span == cable.span for c in show.plan.cables) == 1:
            yield cable


def insert_cable_left_out(show: Show) -> Iterator[Mutant]:
    """A cable to or from outboard equipment that nobody wrote, or that goes to its other channel."""
    for name, insert in _inserts(show):
        for cable in _cables(show, insert):
            gone = whole_line(cable.span)
            yield from _made("insert cable left out", cable.name, [gone], "open-insert", name)
            other = within(show, cable.span, r"((?:in|out)) A\b", r"\1 B")
            yield from _made("insert by the other channel", cable.name, [other], "open-insert", name)


def insert_back_elsewhere(show: Show) -> Iterator[Mutant]:
    """An insert that comes back by the socket beside."""
    for name, insert in _inserts(show):
        said = insert.record.at("return")
        port = re.fullmatch(r"(.+ )(\d+)", show.text(said))
        if port:
            edit = Edit(said, f"{port[1]}{int(port[2]) - 1}")
            yield from _made("insert back elsewhere", name, [edit], "open-insert", name)


def mix_without_talkback(show: Show) -> Iterator[Mutant]:
    """A monitor mix that the talkback does not reach."""
    for channel in show.plan.channels:
        for send in channel.sends if channel.kind_of_source == "talkback" else ():
            edit = item(show, send.span)
            yield from _made("mix without talkback", send.bus, [edit], "talkback-astray", channel.name, send.bus)


OPERATORS: tuple[Callable[[Show], Iterator[Mutant]], ...] = (
    insert_cable_left_out,
    insert_back_elsewhere,
    mix_without_talkback,
)
