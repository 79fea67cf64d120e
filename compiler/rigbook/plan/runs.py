"""Two runs of sockets that should be of one length and are not: which of them was meant otherwise."""

from __future__ import annotations

import re

from rigbook.findings.finding import Finding, Label, Severity
from rigbook.findings.place import Span
from rigbook.language.values.names import SocketRef
from rigbook.plan.model import Socket
from rigbook.plan.sockets import Sockets
from rigbook.plan.words import write_one_of
from rigbook.text.phrase import counted, phrase

Ends = tuple[SocketRef, SocketRef]


def unequal(
    span: Span, ends: Ends, start: list[Socket], end: list[Socket], sockets: Sockets
) -> tuple[list[Socket], list[Socket]]:
    """The sockets of a line of wiring whose two runs differ in length, as they were probably meant, after a finding.

    A run that names sockets its unit does not have is the wrong one. Else the shorter one is read longer, where its
    unit has the sockets and no other line names them; else the longer one shorter.
    """
    a, b = ends
    # the run that goes beyond the last socket of its unit has been told of already: one finding is enough
    beyond = [any(s.id in sockets.unresolved for s in run) for run in (start, end)]
    sockets.findings[:] = [
        f for f in sockets.findings if f.check != "over-capacity" or not _within(f.primary.span, (a.span, b.span))
    ]
    short = 0 if len(start) < len(end) else 1
    runs, refs = [list(start), list(end)], (a, b)
    longer, shorter = runs[1 - short], runs[short]
    grown = _grown(shorter, len(longer), sockets)
    cut = longer[: len(shorter)]
    fits = bool(grown) and not beyond[1 - short] and not any(s in sockets.taken for s in grown[len(shorter) :])
    options = [(short, grown)] if grown and not beyond[1 - short] else []
    options.insert(0 if not fits else len(options), (1 - short, cut))
    written = [_written(refs[side], run) for side, run in options]
    for side, run in options[:1]:
        sockets.unresolved.difference_update(s.id for s in runs[side] if s not in run)
        runs[side] = run
        sockets.taken.update(run)
    sockets.findings.append(
        Finding(
            "wrong-value",
            Severity.ERROR,
            phrase(
                "`%(a)s` is %(left)s, `%(b)s` is %(right)s", a=a.text, left=_count(start), b=b.text, right=_count(end)
            ),
            Label(span),
            remedy=write_one_of(w for w in written if w)
            if any(written)
            else phrase("write runs of the same length on both sides"),
            objects=frozenset(s.id for s in (*start, *end)),
        )
    )
    return runs[0], runs[1]


def _within(inner: Span, outer: tuple[Span, ...]) -> bool:
    return any(s.file == inner.file and s.line == inner.line and s.column <= inner.column < s.end_column for s in outer)


def _grown(run: list[Socket], length: int, sockets: Sockets) -> list[Socket]:
    """A run gone on to a length; empty where its unit has no such sockets."""
    first = run[0]
    m = re.fullmatch(r"(.*?)(\d+|[A-Z])", first.port)
    unit = sockets.units.get(first.unit)
    if m is None or unit is None or unit.kind is None:
        return []
    stem, begin = m.groups()
    number = int(begin) if begin.isdecimal() else ord(begin)
    names = [stem + (str(number + i) if begin.isdecimal() else chr(number + i)) for i in range(length)]
    return [Socket(first.unit, n) for n in names] if all(n in unit.kind.ports for n in names) else []


def _written(ref: SocketRef, run: list[Socket]) -> str:
    """A run as it is typed: `box/in 1-8`."""
    if not ref.port:
        return ""
    last = re.sub(r"^.*?(\d+|[A-Z])$", r"\1", run[-1].port)
    return run[0].id if len(run) == 1 else f"{run[0].id}-{last}"


def _count(sockets: list[Socket]) -> str:
    return counted(len(sockets), "%(num)s socket", "%(num)s sockets")
