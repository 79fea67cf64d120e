"""A bridged amplifier wired as if it were not.

*What it finds*
An amplifier in bridged mode with a signal at an input, or a speaker at an output, that the mode does not use.

*Why it matters on stage*
The second speaker is silent, or hangs across half of the bridge; the first gets up to four times the power.

*Put it right*
Wire the pair by the input and output that the mode names, or take the amplifier out of bridged mode.

*Fails*
    plan: 1
    show: Fails
    units: {desk: desk-16, amp: {kind: amplifier-2x500, mode: bridged}, left: top-12, right: top-12}
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main}}
    buses: {main: {stereo: yes, limiter: +3 dBu}}
    outputs: {main left: desk/out 1, main right: desk/out 2}
    wiring:
      xlr: [desk/out 1-2 -> amp/in A-B]
      speaker-2.5-mm2: [amp/out A -> left, amp/out B -> right]

*Passes*
    plan: 1
    show: Passes
    units: {desk: desk-16, amp: amplifier-2x500, left: top-12, right: top-12}
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main}}
    buses: {main: {stereo: yes, limiter: +3 dBu}}
    outputs: {main left: desk/out 1, main right: desk/out 2}
    wiring:
      xlr: [desk/out 1-2 -> amp/in A-B]
      speaker-2.5-mm2: [amp/out A -> left, amp/out B -> right]

*Source*
Common practice; the modes of the kind say what each uses.
"""

from __future__ import annotations

from collections.abc import Iterator

from rigbook.compute.loads import mode_of
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.graph.rig import Rig
from rigbook.plan.model import Cable, Socket, Unit
from rigbook.text.phrase import phrase

SEVERITY = Severity.ERROR


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each bridged amplifier with a cable where its mode uses none."""
    for unit in rig.plan.units.values():
        if unit.family != "amplifier" or unit.kind is None or unit.spare:
            continue
        mode = mode_of(unit, unit.kind)
        used = {port for route in unit.kind.modes.get(mode, ()) for port in route}
        if "bridge" not in mode or not used or "mode" in unit.record.broken:
            continue
        wrong = [c for c in rig.plan.cables if _stray(c.start, unit.name, used) or _stray(c.end, unit.name, used)]
        if wrong:
            yield _finding(rig, unit, mode, wrong)


def _stray(socket: Socket, unit: str, used: set[str]) -> bool:
    return socket.unit == unit and socket.port[:3] in ("in ", "out") and socket.port not in used


def _finding(rig: Rig, unit: Unit, mode: str, wrong: list[Cable]) -> Finding:
    far = {s for c in rig.plan.cables for s in (c.start, c.end) if unit.name in (c.start.unit, c.end.unit)}
    cables = {c.name for c in rig.plan.cables if unit.name in (c.start.unit, c.end.unit)}
    legs = {leg for s in far for leg in rig.legs_of(s.id)}
    outputs = {o.name for o in rig.plan.outputs for s, _ in o.sockets if s in far}
    sockets = {f"{unit.name}/{port}" for port in unit.kind.ports} if unit.kind else set()
    silent = any(c.start.unit == unit.name for c in wrong)
    if not silent:
        # the output of the bridge is used as it should be: what its load is stays to be told
        far = {s for s in far if not (s.unit == unit.name and s.port[:3] == "out")}
        sockets = {s for s in sockets if "/out" not in s}
    return Finding(
        "bridge-misuse",
        SEVERITY,
        phrase("`%(unit)s` is in %(mode)s mode and wired as two channels", unit=unit.name, mode=mode),
        Label(unit.record.at("mode"), phrase("two channels work as one")),
        tuple(Label(c.span, phrase("%(mode)s mode does not use this socket", mode=mode)) for c in wrong),
        effect=phrase("one speaker stays silent and the other gets up to four times the power")
        if silent
        else phrase("what comes in there is not heard, and the speakers get up to four times the power"),
        remedy=phrase("take `%(unit)s` out of %(mode)s mode, or wire it as that mode wants", unit=unit.name, mode=mode),
        objects=frozenset(
            {unit.name, *sockets, *cables, *legs, *outputs, *(s.id for s in far), *(s.unit for s in far)}
        ),
    )
