"""Single faults of lines that are patched amiss: a cable copied, a run beside the one meant, a plug elsewhere."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from helpers.mutants import Edit, Mutant, Show, _made
from rigbook.findings.place import Span
from rigbook.plan.model import Cable


def cable_copied(show: Show) -> Iterator[Mutant]:
    """A line that was copied, and whose copy was not changed."""
    for cable in show.single():
        line = show.line(cable.span)
        if line.strip().startswith("- ") and line.count("->") == 1:
            copy = Edit(Span(cable.span.file, cable.span.line, 0, cable.span.line, 0), line + "\n")
            yield from _made("cable copied", cable.name, [copy], "cable-twice", cable.start.id)


def _runs(show: Show) -> Iterator[list[Cable]]:
    lines: dict[tuple[Span, Span], list[Cable]] = {}
    for cable in show.plan.cables:
        if show.rig.carriers.carries_signal(cable):
            lines.setdefault((cable.start_span, cable.end_span), []).append(cable)
    yield from (cables for cables in lines.values() if len(cables) > 3)


def run_moved(show: Show) -> Iterator[Mutant]:
    """A run of sockets of a splitter, one too far, where the neighbour is taken."""
    ends = {c.end.id: c for c in show.plan.cables}
    heard = {s.id for c in show.plan.channels for s in c.sockets}
    for cables in _runs(show):
        ports = [c.end.port.rpartition(" ") for c in cables]
        stem, numbers = ports[0][0], [int(p[2]) for p in ports if p[2].isdigit()]
        if len(numbers) != len(cables) or not all(c.end.id in heard for c in (cables[0], cables[-1])):
            continue
        unit = cables[0].end.unit
        for step, lost in ((1, numbers[0]), (-1, numbers[-1])):
            beyond = f"{unit}/{stem} {numbers[-1] + 1 if step > 0 else numbers[0] - 1}"
            if beyond in ends and f"{unit}/{stem} {lost}" in heard:
                edit = Edit(cables[0].end_span, f"{unit}/{stem} {numbers[0] + step}-{numbers[-1] + step}")
                what = show.text(cables[0].end_span)
                yield from _made("run moved", what, [edit], "run-beside", f"{unit}/{stem} {lost}")


def plugged_beside(show: Show) -> Iterator[Mutant]:
    """A source in the socket beside its own, or in that of its neighbour."""
    for channel in show.plan.channels:
        if "plugged" not in channel.record.spans or len(channel.plugged) != 1:
            continue
        socket = channel.plugged[0]
        stem, _, number = socket.port.rpartition(" ")
        kind = show.plan.units[socket.unit].kind
        port = f"{stem} {int(number) + 1}"
        if kind is not None and port in kind.ports:
            edit = Edit(channel.record.at("plugged"), f"{socket.unit}/{port}")
            yield from _made("plugged beside", channel.name, [edit], "plugged-astray", channel.name)


OPERATORS: tuple[Callable[[Show], Iterator[Mutant]], ...] = (cable_copied, run_moved, plugged_beside)
