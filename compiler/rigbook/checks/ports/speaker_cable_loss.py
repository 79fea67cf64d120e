"""A speaker cable that takes too much.

*What it finds*
A speaker whose cable, counted from the amplifier with every link on the way, loses more level than the plan's limit
(`speaker-cable-loss`, 0.5 dB where it is not set). Cables without a length or an area are not judged.

*Why it matters on stage*
The box is quieter than its twin, and the power that it lacks warms the cable.

*Put it right*
Take a thicker cable (the message names an area that the library or the plan has), a shorter one, or give the second box
a cable of its own.

*Fails*
    plan: 1
    show: Fails
    units: {desk: desk-16, amp: amplifier-2x300, wedge: wedge-12}
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: mix-1}}
    buses: {mix-1: {monitor-for: Voice, limiter: +3 dBu}}
    outputs: {mix-1: desk/out 1}
    wiring: {xlr: [desk/out 1 -> amp/in A], speaker-2.5-mm2: ["amp/out A -> wedge/in, 40 m"]}
    limits: {damping: 5}

*Passes*
    plan: 1
    show: Passes
    units: {desk: desk-16, amp: amplifier-2x300, wedge: wedge-12}
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: mix-1}}
    buses: {mix-1: {monitor-for: Voice, limiter: +3 dBu}}
    outputs: {mix-1: desk/out 1}
    wiring: {xlr: [desk/out 1 -> amp/in A], speaker-4-mm2: ["amp/out A -> wedge/in, 40 m"]}
    limits: {damping: 5}

*Source*
Limit: common practice. Resistance: IEC 60228:2004, table 3 (class 5); of a wire gauge, ASTM B258.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from rigbook.compute.cables import Run
from rigbook.compute.figure import Figure, value_of
from rigbook.compute.results import results
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.findings.place import NOWHERE
from rigbook.graph.rig import Rig
from rigbook.language.record import Entry, Record
from rigbook.plan.gear import Gear
from rigbook.text.phrase import phrase
from rigbook.units.quantity import Amount, Quantity

SEVERITY = Severity.WARNING
YIELDS_TO = ("amp-underload", "mixed-load")


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each output of an amplifier, about the speaker on it that loses most."""
    limits = results(rig).limits
    for near, run, boxes in _worst(results(rig).cable_runs, limits["speaker-cable-loss"] + 0.005):
        assert isinstance(run.loss, Figure)
        last = near.cables[-1]
        area = next((a for a in _areas(rig) if run.next_area and a >= run.next_area - 1e-6), None)
        yield Finding(
            "speaker-cable-loss",
            SEVERITY,
            phrase("the cable to `%(box)s` loses %(loss)s", box=run.box, loss=run.loss),
            Label(last.span, phrase("over %(said)s", said=limits.said("speaker-cable-loss"))),
            tuple(
                Label(span, phrase("on the way there"))
                for span in dict.fromkeys(c.span for c in reversed(run.cables))
                if span != last.span
            ),
            effect=phrase("`%(box)s` plays %(loss)s quieter than it could", box=run.box, loss=run.loss),
            remedy=phrase("take %(area)s mm2, or a shorter way", area=Amount(f"{area:g}"))
            if area
            else phrase("take a shorter way, bring the amplifier nearer, or use a speaker of higher impedance"),
            objects=boxes,
        )


def _worst(runs: Iterable[Run], most: float) -> Iterator[tuple[Run, Run, frozenset[str]]]:
    """Of each output the first and the last way that lose too much, and all boxes that do: they share a cable."""
    outputs: dict[str, list[tuple[float, Run]]] = {}
    for run in runs:
        loss = value_of(run.loss)
        if loss is not None and loss > most:
            outputs.setdefault(run.amplifier, []).append((loss, run))
    for over in outputs.values():
        over.sort(key=lambda each: each[0])
        yield over[0][1], over[-1][1], frozenset(run.box for _, run in over)


def _areas(rig: Rig) -> list[float]:
    """Areas in mm² that a speaker cable of the library or of the plan's own kinds has, from the thinnest."""
    gear = Gear({}, [])
    shipped = (gear.find(n, NOWHERE) for n in gear.names(("cable",)) if n.startswith("speaker"))
    own = (k.value for k in rig.plan.record.get("kinds", ()) if isinstance(k, Entry) and isinstance(k.value, Record))
    records = [*(k.record for k in (*shipped, *rig.plan.kinds.values()) if k), *own]
    cables = (r for r in records if r.get("is") == "cable" and r.get("carries") == "speaker")
    return sorted({area.value * 1e6 for r in cables if isinstance(area := r.get("area"), Quantity)})
