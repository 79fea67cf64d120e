"""A plug that does not fit its socket.

*What it finds*
A cable whose end does not go into the socket it is named for, and no adaptor is declared that makes it fit; where that
is so for every line under a kind, the kind is probably the mistake, and it is told once. An unbalanced source that is
plugged into an XLR socket without a DI.

*Why it matters on stage*
The cable lies there and cannot be plugged in. The adaptor that would help is in nobody's case.

*Put it right*
Take a cable kind with the right ends, or declare the adaptor on the line: `…, adaptor jack-to-phono`. An unbalanced
source gets a DI: `di: di-passive`.

*Fails*
    plan: 1
    show: Fails
    units: {desk: desk-16, left: powered-top-12}
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main}}
    buses: {main: {}}
    outputs: {main: desk/out 1}
    wiring: {jack-balanced: [desk/out 1 -> left/in]}

*Passes*
    plan: 1
    show: Passes
    units: {desk: desk-16, left: powered-top-12}
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main}}
    buses: {main: {}}
    outputs: {main: desk/out 1}
    wiring: {xlr-to-jack: [desk/out 1 -> left/in]}

*Source*
IEC 61076-2-103 (XLR) and IEC 60603-11 (jack), from memory; common practice.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from rigbook.checks.ports._connectors import fits, words
from rigbook.checks.ports._ends import Fault, faulty, more, port_of
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.graph.rig import Rig
from rigbook.plan.model import Cable, Port
from rigbook.text.phrase import phrase

SEVERITY = Severity.ERROR
YIELDS_TO = ("speaker-level-into-line", "line-into-speaker", "wrong-direction", "wrong-kind")
UNBALANCED = ("jack-unbalanced", "mini-jack", "phono")


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each line of wiring, and for each source."""
    lines = Counter(c.kind_name for c in {c.span: c for c in rig.plan.cables}.values())
    wrong: dict[str, list[tuple[Fault, int]]] = {}
    for fault, count in faulty(rig, lambda c, a, b: bool(_misfits(rig, c, a, b))):
        wrong.setdefault(fault[0].kind_name, []).append((fault, count))
    for kind, faults in wrong.items():
        cables = [fault[0] for fault, _ in faults]
        # where no line under a kind fits, the kind is the mistake, and one message says so
        if len(faults) > 1 and len({c.span for c in cables}) == lines[kind]:
            yield _kind(rig, kind, faults)
        else:
            for (cable, start, end), count in faults:
                yield _cable(rig, cable, start, end, count)
    yield from _sources(rig)


def _ends_of(cable: Cable) -> tuple[str, str] | None:
    ends: tuple[str, ...] = cable.kind.get("ends", ()) if cable.kind else ()
    return (str(ends[0]), str(ends[1])) if len(ends) == 2 else None


def _misfits(rig: Rig, cable: Cable, start: Port, end: Port) -> tuple[bool, bool] | None:
    """Which ends do not fit, with the cable turned the better way; None where it can be plugged in."""
    ends = _ends_of(cable)
    if ends is None:
        return None
    turned = (ends[1], ends[0])
    ways = [(not fits(start.connector, a), not fits(end.connector, b)) for a, b in (ends, turned)]
    wrong = min(ways, key=sum)
    if cable.adaptor and sum(wrong) == 1:
        adaptor = rig.plan.kinds.get(cable.adaptor)
        at = (start if wrong[0] else end).connector
        if adaptor is None or any(fits(at, e) for e in adaptor.get("ends", ())):
            return None
    return wrong if any(wrong) else None


def _cable(rig: Rig, cable: Cable, start: Port, end: Port, count: int) -> Finding:
    wrong = _misfits(rig, cable, start, end) or (True, False)
    ends = _ends_of(cable) or ("", "")
    at_start = wrong[0]
    socket, port = (cable.start, start) if at_start else (cable.end, end)
    made_for = ends[0] if at_start else ends[1]
    if all(wrong):
        message = phrase(
            "neither end of `%(kind_name)s` fits `%(cable)s`%(more)s",
            kind_name=cable.kind_name,
            cable=cable.name,
            more=more(count),
        )
    else:
        message = phrase(
            "`%(kind_name)s` does not fit `%(socket)s`%(more)s",
            kind_name=cable.kind_name,
            socket=socket.id,
            more=more(count),
        )
    if cable.adaptor:
        message = phrase("%(message)s, nor does the adaptor `%(adaptor)s` help", message=message, adaptor=cable.adaptor)
    other = Label(cable.end_span, phrase("this is %(words)s", words=words(end.connector))) if all(wrong) else None
    return Finding(
        "connector-mismatch",
        SEVERITY,
        message,
        Label(
            cable.start_span if at_start else cable.end_span, phrase("this is %(words)s", words=words(port.connector))
        ),
        (other,) if other else (),
        effect=phrase("the plug is made for %(words)s and cannot be plugged in", words=words(made_for)),
        remedy=_remedy(rig, start, end),
        objects=frozenset({cable.name}),
    )


def _kind(rig: Rig, kind: str, faults: list[tuple[Fault, int]]) -> Finding:
    """None of the cables of a kind can be plugged in."""
    (first, start, end), _ = faults[0]
    at_start = (_misfits(rig, first, start, end) or (True, False))[0]
    return Finding(
        "connector-mismatch",
        SEVERITY,
        phrase(
            "`%(kind)s` fits none of the %(count)s cables that are written under it",
            kind=kind,
            count=sum(1 + n for _, n in faults),
        ),
        Label(
            first.start_span if at_start else first.end_span,
            phrase("this is %(words)s", words=words((start if at_start else end).connector)),
        ),
        tuple(Label(cable.span) for (cable, _, _), _ in faults[1:4]),
        effect=phrase("none of them can be plugged in"),
        remedy=_remedy(rig, start, end),
        objects=frozenset(cable.name for (cable, _, _), _ in faults),
    )


def _remedy(rig: Rig, start: Port, end: Port) -> str:
    """A cable kind of this plan that fits both ends, or what to look for."""
    for kind in rig.plan.kinds.values():
        ends: tuple[str, ...] = kind.get("ends", ()) if kind.family == "cable" else ()
        if len(ends) == 2 and fits(start.connector, ends[0]) and fits(end.connector, ends[1]):
            return phrase("write it under `%(kind)s`, or declare an adaptor at the end of the line", kind=kind.name)
    a, b = words(start.connector), words(end.connector)
    return phrase("take a cable from %(a)s to %(b)s, or declare an adaptor at the end of the line", a=a, b=b)


def _sources(rig: Rig) -> Iterator[Finding]:
    for channel in rig.plan.channels:
        kind = channel.source_kind
        plug = str(kind.get("connector", "xlr-male")) if kind else ""
        for socket in channel.plugged if plug in UNBALANCED and channel.source_key == "line" else ():
            port = port_of(rig, socket)
            if port is not None and kind is not None and port.connector in ("xlr-female", "xlr-male"):
                key = channel.source_key
                yield Finding(
                    "connector-mismatch",
                    SEVERITY,
                    phrase(
                        "`%(kind)s` of channel %(number)s `%(channel)s` does not fit `%(socket)s`",
                        kind=kind.name,
                        number=channel.number,
                        channel=channel.name,
                        socket=socket.id,
                    ),
                    Label(channel.record.at(key), phrase("its lead goes into %(words)s", words=words(plug))),
                    effect=phrase(
                        "`%(socket)s` is %(words)s: the lead cannot be plugged in",
                        socket=socket.id,
                        words=words(port.connector),
                    ),
                    remedy=phrase("add `di: di-stereo-passive`, which serves both sides")
                    if len(channel.plugged) == 2
                    else phrase("add `di: di-passive` (or `di-active` with `phantom: yes`)"),
                    objects=frozenset({socket.id, channel.name}),
                )
                break
