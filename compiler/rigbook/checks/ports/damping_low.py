"""A cone that is hardly held.

*What it finds*
A speaker at whose terminals the damping factor, amplifier and cable together, is lower than the plan's limit
(`damping`, 20 where it is not set).

*Why it matters on stage*
The bass turns soft: the amplifier no longer stops the cone after a beat.

*Put it right*
Take a thicker or a shorter cable.

*Fails*
    plan: 1
    show: Fails
    units: {desk: desk-16, amp: amplifier-2x900, sub: sub-18}
    inputs: {1: {name: Kick, from: desk/line 1, mic: dynamic-kick, source: drums, to: subs}}
    buses: {subs: {high-cut: 100 Hz lr 24 dB/oct, limiter: +3 dBu}}
    outputs: {subs: desk/out 1}
    wiring: {xlr: [desk/out 1 -> amp/in A], speaker-2.5-mm2: ["amp/out A -> sub/in, 28 m"]}

*Passes*
    plan: 1
    show: Passes
    units: {desk: desk-16, amp: amplifier-2x900, sub: sub-18}
    inputs: {1: {name: Kick, from: desk/line 1, mic: dynamic-kick, source: drums, to: subs}}
    buses: {subs: {high-cut: 100 Hz lr 24 dB/oct, limiter: +3 dBu}}
    outputs: {subs: desk/out 1}
    wiring: {xlr: [desk/out 1 -> amp/in A], speaker-4-mm2: ["amp/out A -> sub/in, 15 m"]}

*Source*
Limit: common practice. Damping factor: IEC 60268-3 (clause from memory).
"""

from __future__ import annotations

from collections.abc import Iterator

from rigbook.compute.cables import Run
from rigbook.compute.figure import value_of
from rigbook.compute.results import results
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.graph.rig import Rig
from rigbook.text.phrase import phrase

SEVERITY = Severity.NOTE
YIELDS_TO = ("speaker-cable-loss", "amp-underload", "mixed-load")


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each output of an amplifier, about the speaker on it that is damped least."""
    limits = results(rig).limits
    outputs: dict[str, list[tuple[float, Run]]] = {}
    for run in results(rig).cable_runs:
        damping = value_of(run.damping)
        # as printed: "20, under 20" would tell nobody anything
        if damping is not None and round(damping) < limits["damping"]:
            outputs.setdefault(run.amplifier, []).append((damping, run))
    for low in outputs.values():
        run = min(low, key=lambda each: each[0])[1]
        last, *before = reversed(run.cables)
        yield Finding(
            "damping-low",
            SEVERITY,
            phrase("the damping factor at `%(box)s` is %(damping)s", box=run.box, damping=run.damping),
            Label(last.span, phrase("under %(said)s", said=limits.said("damping"))),
            tuple(Label(c.span, phrase("on the way there")) for c in before),
            effect=phrase("the bass of `%(box)s` turns soft", box=run.box),
            remedy=phrase("take a thicker or a shorter cable"),
            objects=frozenset(each.box for _, each in low),
        )
