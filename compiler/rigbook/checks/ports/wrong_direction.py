"""A cable that runs against the signal.

*What it finds*
A cable that begins at an input or ends at an output; an output of the desk that leaves by an input socket; a channel
that listens to an output socket.

*Why it matters on stage*
An output and an output face each other, or an input and an input: nothing is heard on that line, and two outputs that
are joined may harm each other.

*Put it right*
Swap the two ends of the line, or name the other socket of the unit.

*Fails*
    plan: 1
    show: Fails
    units: {desk: desk-16, left: powered-top-12}
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main}}
    buses: {main: {}}
    outputs: {main: desk/out 1}
    wiring: {xlr: [left/in -> desk/out 1]}

*Passes*
    plan: 1
    show: Passes
    units: {desk: desk-16, left: powered-top-12}
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main}}
    buses: {main: {}}
    outputs: {main: desk/out 1}
    wiring: {xlr: [desk/out 1 -> left/in]}

*Source*
Common practice.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Final

from rigbook.checks.ports._ends import SIGNAL, around, port_of
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.findings.place import Span
from rigbook.graph.gaps import names_of
from rigbook.graph.rig import Rig
from rigbook.language.values.names import unfold
from rigbook.plan.model import Cable, Socket
from rigbook.text.phrase import phrase

SEVERITY = Severity.ERROR
LISTENS: Final = phrase("channel %(number)s listens to `%(socket)s`, which is an output")
PLUGGED: Final = phrase("channel %(number)s is plugged into `%(socket)s`, which is an output")


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each cable or run of cables, output or channel."""
    lines: dict[tuple[Span, Span, bool, bool], list[Cable]] = {}
    for cable in rig.plan.cables:
        start, end = port_of(rig, cable.start), port_of(rig, cable.end)
        into = start is not None and start.direction == "in"
        out_of = end is not None and end.direction == "out"
        if into or out_of:
            lines.setdefault((cable.start_span, cable.end_span, into, out_of), []).append(cable)
    for (_, _, into, out_of), cables in lines.items():
        yield _cables(rig, cables, into, out_of)
    yield from _outputs(rig)
    yield from _channels(rig)


def _outputs(rig: Rig) -> Iterator[Finding]:
    for output in rig.plan.outputs:
        for socket, span in output.sockets:
            port = port_of(rig, socket)
            if port is not None and port.direction == "in":
                message = phrase(
                    "the output `%(output)s` leaves by `%(socket)s`, which is an input",
                    output=output.name,
                    socket=socket.id,
                )
                meant = _meant(rig, socket, "out")
                fix = (
                    phrase("write `%(output)s: %(meant)s`", output=output.name, meant=meant)
                    if meant
                    else phrase("name an output of `%(unit)s`", unit=socket.unit)
                )
                yield _patched(rig, (socket.id, meant), span, message, fix, (output.name, output.bus))


def _channels(rig: Rig) -> Iterator[Finding]:
    for channel in rig.plan.channels:
        for key, sockets in (("from", channel.sockets), ("plugged", channel.plugged)):
            for socket in sockets if key in channel.record.spans else ():
                port = port_of(rig, socket)
                if port is not None and port.direction == "out":
                    said = PLUGGED if key == "plugged" else LISTENS
                    message = phrase(said, number=channel.number, socket=socket.id)
                    # of a receiver or player there is no input to listen to: it is where its cable ends
                    meant = _meant(rig, socket, "in") or next(
                        (c.end.id for c in rig.plan.cables if c.start.id == socket.id), ""
                    )
                    fix = (
                        phrase("write `%(key)s: %(meant)s`", key=key, meant=meant)
                        if meant
                        else phrase("name the input that `%(socket)s` is cabled to", socket=socket.id)
                    )
                    span = channel.record.at(key)
                    yield _patched(rig, (socket.id, meant), span, message, fix, (channel.name,))


def _cables(rig: Rig, cables: list[Cable], into: bool, out_of: bool) -> Finding:
    """About the cables of one line, which are a run where they are several."""
    cable = cables[0]
    starts, ends = [c.start for c in cables], [c.end for c in cables]
    meant = [m for s in starts if into and (m := _meant(rig, s, "out"))]
    meant += [m for s in ends if out_of and (m := _meant(rig, s, "in"))]
    # the sockets that were meant wait for this cable, and what they feed is silent for it
    sockets = (*(s.id for s in (*starts, *ends)), *meant)
    other: tuple[Label, ...] = ()
    fix: str
    if into and out_of:
        message, at = (
            phrase("the cable `%(cable)s` runs against the signal", cable=f"{_run(starts)} -> {_run(ends)}"),
            Label(cable.start_span, phrase("this is an input")),
        )
        other = (Label(cable.end_span, phrase("this is an output")),)
        fix = phrase("write `%(end)s -> %(start)s`", end=_run(ends), start=_run(starts))
    elif into:
        message, at = (
            phrase("a cable begins at the input `%(ends)s`", ends=_run(starts)),
            Label(cable.start_span, phrase("signal goes in here")),
        )
        fix = _instead(starts, meant, "out")
    else:
        message, at = (
            phrase("a cable ends at the output `%(ends)s`", ends=_run(ends)),
            Label(cable.end_span, phrase("signal comes out here")),
        )
        fix = _instead(ends, meant, "in")
    return Finding(
        "wrong-direction",
        SEVERITY,
        message,
        at,
        other,
        effect=phrase("nothing comes through this cable"),
        remedy=fix,
        objects=frozenset({*_around(rig, sockets), *around(rig, sockets)}),
    )


def _run(sockets: list[Socket]) -> str:
    """Sockets of one unit as they are typed: `box/out 1`, `box/out 1-2`."""
    first, last = sockets[0], sockets[-1].port.rpartition(" ")[2]
    if len(sockets) == 1:
        return first.id
    row = unfold(f"{first.port}-{last}") == [s.port for s in sockets]
    return f"{first.id}{'-' if row else '+'}{last}"


def _patched(rig: Rig, sockets: tuple[str, ...], span: Span, message: str, fix: str, more: Iterable[str]) -> Finding:
    return Finding(
        "wrong-direction",
        SEVERITY,
        message,
        Label(span),
        effect=phrase("no signal passes this socket that way"),
        remedy=fix,
        objects=frozenset({*_around(rig, filter(None, sockets)), *more}),
    )


def _instead(sockets: list[Socket], meant: list[str], direction: str) -> str:
    if len(set(meant)) == len(sockets):
        return phrase("write `%(meant)s`", meant=_run([Socket(*m.split("/", 1)) for m in meant]))
    if direction == "out":
        return phrase("name an output of `%(unit)s`", unit=sockets[0].unit)
    return phrase("name an input of `%(unit)s`", unit=sockets[0].unit)


def _meant(rig: Rig, socket: Socket, direction: str) -> str:
    """The socket of the same unit that was probably meant: same number or letter, other direction; empty for none."""
    unit, port = rig.plan.units[socket.unit], port_of(rig, socket)
    if unit.kind is None or port is None:
        return ""
    levels = SIGNAL if port.level in SIGNAL else (port.level,)
    fits = [p for p in unit.kind.ports.values() if p.direction in (direction, "both") and p.level in levels]
    number = socket.port.rpartition(" ")[2]
    same = [p for p in fits if p.name.rpartition(" ")[2] == number] or fits
    return f"{unit.name}/{same[0].name}" if same else ""


def _around(rig: Rig, ends: Iterable[str]) -> set[str]:
    """The sockets, their units, and everything up and down the signal: what is silent there is silent for this."""
    names: set[str] = set()
    sockets = tuple(ends)
    for socket in sockets:
        names |= {socket, socket.partition("/")[0], *rig.ends_of(socket), *rig.origins_of(socket)}
        if socket not in rig.net:
            continue
        for edge, data in (*rig.edges_out(socket), *rig.edges_in(socket)):
            names |= {edge[0], edge[1]}
            if data.get("output"):
                names |= {data["output"].name, data["output"].bus}
    for gap in rig.gaps:
        loose = set(names_of(gap.wants)) | ({gap.start.node, *gap.start.tails} if gap.start else set())
        # a tie line between lets the signal through the other way only: what stops there and what waits there
        if loose & set(sockets):
            names |= loose | (set(rig.legs_of(gap.start.node)) if gap.start else set())
            if gap.start and gap.start.output:
                names |= {gap.start.output.name, gap.start.output.bus}
    return names
