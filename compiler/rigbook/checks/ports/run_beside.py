"""A run of sockets that lies beside the one that was meant.

*What it finds*
A line of `wiring` with a run of sockets where some are taken by another line, or lead nowhere, while a run of the same
length in the same unit is free and fits: a row too low, a block of eight too far, one socket off.

*Why it matters on stage*
Every line of the multicore arrives under the name of its neighbour, and at one end of the run two plugs want one
socket.

*Put it right*
Write the run that the message names.

*Fails*
    plan: 1
    show: Fails
    units: {desk: desk-16, box: stage-box-16, split: splitter-8, top: powered-top-12}
    inputs:
      1: {name: Alto, from: box/in 1, plugged: split/in 1, mic: dynamic-vocal, source: vocal, to: main}
      2: {name: Tenor, from: box/in 2, plugged: split/in 2, mic: dynamic-vocal, source: vocal, to: main}
      3: {name: Bass, from: box/in 3, plugged: split/in 3, mic: dynamic-vocal, source: vocal, to: main}
    buses: {main: {}}
    outputs: {main: box/out 1}
    wiring:
      network: [desk/net A -> box/net A]
      xlr: [split/a 1-3 -> box/in 2-4, box/out 1 -> top/in]

*Passes*
    plan: 1
    show: Passes
    units: {desk: desk-16, box: stage-box-16, split: splitter-8, top: powered-top-12}
    inputs:
      1: {name: Alto, from: box/in 1, plugged: split/in 1, mic: dynamic-vocal, source: vocal, to: main}
      2: {name: Tenor, from: box/in 2, plugged: split/in 2, mic: dynamic-vocal, source: vocal, to: main}
      3: {name: Bass, from: box/in 3, plugged: split/in 3, mic: dynamic-vocal, source: vocal, to: main}
    buses: {main: {}}
    outputs: {main: box/out 1}
    wiring:
      network: [desk/net A -> box/net A]
      xlr: [split/a 1-3 -> box/in 1-3, box/out 1 -> top/in]

*Source*
Common practice.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator

from rigbook.checks.ports._ends import around, port_of
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.findings.place import Span
from rigbook.graph import kinds as k
from rigbook.graph.rig import Rig
from rigbook.plan.model import Cable, Socket
from rigbook.records import frozen
from rigbook.text.phrase import counted, phrase

SEVERITY = Severity.ERROR
ABSENCE = True
NUMBERED = re.compile(r"(.*?)(\d+)")


@frozen
class _Guess:
    """A run that fits better than the one that is written."""

    cables: tuple[Cable, ...]
    out: bool
    """The side of the line at which it lies: where its signal comes from."""
    meant: tuple[str, ...]
    """The sockets that fit."""
    taken: str
    """A socket of the run that is written which another line takes; empty where it only leads nowhere."""
    alike: int
    """Other lines between the same two units with sockets of the same name: the more, the likelier."""

    @property
    def written(self) -> tuple[str, ...]:
        """The sockets of the line on that side."""
        return tuple((c.start if self.out else c.end).id for c in self.cables)


@frozen
class _Use:
    """How often a socket is named as the start of a cable, and as the end of one or of a source's own lead."""

    starts: Counter[str]
    ends: Counter[str]

    def free(self, node: str, out: bool, both: bool) -> bool:
        """Nothing is plugged in there; `both`: the socket takes a signal either way."""
        return not (self.starts if out else self.ends)[node] and not (both and self.ends[node] + self.starts[node])

    def shared(self, node: str, out: bool) -> bool:
        """Two are plugged in there."""
        return (self.starts if out else self.ends)[node] > 1


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each knot of lines that take each other's sockets."""
    leads = [s.id for c in rig.plan.channels if c.source_key for s in dict.fromkeys(c.plugged)]
    ends = Counter(dict.fromkeys(leads, 1)) + Counter(c.end.id for c in rig.plan.cables)
    use = _Use(Counter(c.start.id for c in rig.plan.cables), ends)
    # where an insert says that it leaves and comes back, its own line is right
    inserts = (*(c.insert for c in rig.plan.channels), *(b.insert for b in rig.plan.buses.values()))
    named = {s.id for i in inserts if i is not None for s in (*i.sends, *i.returns)}
    every = (g for cables in _runs(rig) for g in _guesses(rig, cables, use))
    guesses = [g for g in every if not set(g.written) <= named]
    told: set[str] = set()
    # of two lines that each could give way the one that is unlike its fellows, then the later one
    for guess in sorted(guesses, key=lambda g: (-g.alike, -g.cables[0].span.line)):
        mine = {*guess.written, *guess.meant}
        if not mine & told:
            told |= mine
            yield _finding(rig, guess)


def _runs(rig: Rig) -> list[list[Cable]]:
    """The lines of wiring that name runs of sockets; before the desks those too that name one."""
    lines: dict[tuple[Span, Span, Span], list[Cable]] = {}
    for cable in rig.plan.cables:
        start, end = port_of(rig, cable.start), port_of(rig, cable.end)
        # a line against the signal is told as that
        right = start is not None and end is not None and start.direction != "in" and end.direction != "out"
        if rig.carriers.carries_signal(cable) and not cable.split and right:
            lines.setdefault((cable.span, cable.start_span, cable.end_span), []).append(cable)
    ends = Counter((c.start, c.end) for c in rig.plan.cables)
    once = (cs for cs in lines.values() if all(ends[c.start, c.end] == 1 for c in cs))
    return [cables for cables in once if len(cables) > 1 or not rig.legs_of(cables[0].start.id)]


def _guesses(rig: Rig, cables: list[Cable], use: _Use) -> Iterator[_Guess]:
    """For each side of a line, the nearest run that is free, whole and waited for."""
    for out in (True, False):
        own = [(c.start if out else c.end) for c in cables]
        taken = [s.id for s in own if use.shared(s.id, out)]
        poor = {*taken, *(s.id for s in own if len(own) > 1 and not _alive(rig, s.id, out))}
        if not poor or len({s.unit for s in own}) > 1:
            continue
        written = {s.id for s in own}
        port = rig.net.nodes[own[0].id].get("port")
        both = port is not None and port.direction == "both"
        for meant in _beside(rig, own):
            new = [n for n in meant if n not in written]
            # what it gives up is what is wrong with it, and what it gains is free and waits
            near = bool(taken) or meant[0].partition(" ")[0] == own[0].id.partition(" ")[0]
            better = new and not set(taken) & set(meant) and written - set(meant) <= poor
            if near and better and all(use.free(n, out, both) and _waits(rig, n, out) for n in new):
                alike = _alike(rig, cables, out, meant[0])
                yield _Guess(tuple(cables), out, meant, taken[0] if taken else "", alike)
                break


def _beside(rig: Rig, own: list[Socket]) -> Iterator[tuple[str, ...]]:
    """Runs of the same length: the nearest numbers of the unit, its sockets of another name, another unit."""
    unit = rig.plan.units.get(own[0].unit)
    parts = [NUMBERED.fullmatch(s.port) for s in own]
    if unit is None or unit.kind is None or own[0].port not in unit.kind.ports:
        return
    have = unit.kind.ports
    if all(parts) and len({m[1] for m in parts if m}) == 1:
        stem, numbers = parts[0][1], [int(m[2]) for m in parts if m]  # type: ignore[index]
        like = have[own[0].port]
        fits = [p.name for p in have.values() if (p.direction, p.level) == (like.direction, like.level)]
        there = [(m[1], int(m[2])) for p in fits if (m := NUMBERED.fullmatch(p))]
        starts = sorted((n for s, n in there if s == stem and n != numbers[0]), key=lambda n: abs(n - numbers[0]))
        runs = [(stem, n - numbers[0]) for n in starts] + [(s, 0) for s in dict.fromkeys(s for s, _ in there)]
        for name, step in runs:
            ports = [f"{name}{n + step}" for n in numbers]
            if all(p in have for p in ports):
                yield tuple(f"{unit.name}/{p}" for p in ports)
    for other in rig.plan.units.values():
        fellow = other is not unit and other.family == unit.family and not other.spare
        if fellow and other.kind and all(s.port in other.kind.ports for s in own):
            yield tuple(f"{other.name}/{s.port}" for s in own)


def _alive(rig: Rig, node: str, out: bool) -> bool:
    return node in rig.driven if out else bool(rig.heard.get(node)) or _listened(rig, node)


def _waits(rig: Rig, node: str, out: bool) -> bool:
    """The socket has a signal to give, or is listened to."""
    return node in rig.net and _alive(rig, node, out)


def _listened(rig: Rig, node: str) -> bool:
    return any(rig.net.nodes[n]["kind"] == k.CHANNEL for n in rig.net.succ[node])


def _alike(rig: Rig, cables: list[Cable], out: bool, meant: str) -> int:
    """Cables of other lines between the two units whose sockets are named as those of the guess."""
    unit, stem = meant.partition("/")[0], meant.rpartition(" ")[0]
    far = (cables[0].end if out else cables[0].start).unit
    ends = ((c.start, c.end) if out else (c.end, c.start) for c in rig.plan.cables if c.span != cables[0].span)
    fellows = [(a, b) for a, b in ends if b.unit == far and a.id.rpartition(" ")[0] == stem]
    return len(fellows) if unit else 0


def _finding(rig: Rig, guess: _Guess) -> Finding:
    cable = guess.cables[0]
    own, span = (cable.start, cable.start_span) if guess.out else (cable.end, cable.end_span)
    last = re.sub(r"^.*[ /]", "", guess.meant[-1])
    meant = guess.meant[0] if len(guess.meant) == 1 else f"{guess.meant[0]}-{last}"
    ends = [s.id for c in guess.cables for s in (c.start, c.end)]
    waits = next(n for n in guess.meant if n not in guess.written)
    others = [c for c in rig.plan.cables if c.span != cable.span and guess.taken in (c.start.id, c.end.id)]
    plugs = [c for c in rig.plan.channels if c.source_key and guess.taken in {s.id for s in c.plugged}]
    places = [*(c.end_span if c.end.id == guess.taken else c.start_span for c in others),
              *(c.record.at("plugged" if "plugged" in c.record.spans else "from") for c in plugs)]  # fmt: skip
    return Finding(
        "run-beside",
        SEVERITY,
        phrase("`%(taken)s` is taken twice, and `%(waits)s` stays free", taken=guess.taken, waits=waits)
        if guess.taken
        else phrase("`%(written)s` leads nowhere, and `%(waits)s` stays free", written=own.id, waits=waits),
        Label(span, phrase("`%(meant)s` would fit", meant=meant)),
        tuple(Label(place, phrase("taken here")) for place in places[:1]),
        effect=counted(
            len(guess.cables),
            "a line arrives where nobody looks for it",
            "%(num)s lines arrive under the names of others",
        ),
        remedy=phrase("write `%(line)s`", line=meant),
        objects=frozenset(around(rig, (*guess.written, *guess.meant, *ends))),
    )
