"""A strong amplifier without a limiter.

*What it finds*
A speaker whose amplifier gives more than one and a half times its continuous power (the limit `amplifier-most`), or
more than its continuous power where other speakers of the rig have a limiter, with no limiter on the way.

*Why it matters on stage*
Long loud passages overheat the voice coil; nobody hears it coming.

*Put it right*
Set a limiter on the bus, the output or the amplifier. The Speakers page gives the level for each channel.

*Fails*
    plan: 1
    show: Fails
    units: {desk: desk-16, amp: amplifier-4x400, left: fill-8, right: fill-8}
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main}}
    buses: {main: {stereo: yes}}
    outputs: {main left: desk/out 1, main right: desk/out 2}
    wiring:
      xlr: [desk/out 1-2 -> amp/in A-B]
      speaker-2.5-mm2: [amp/out A -> left, amp/out B -> right]

*Passes*
    plan: 1
    show: Passes
    units: {desk: desk-16, amp: amplifier-4x400, left: fill-8, right: fill-8}
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main}}
    buses: {main: {stereo: yes, limiter: +2 dBu}}
    outputs: {main left: desk/out 1, main right: desk/out 2}
    wiring:
      xlr: [desk/out 1-2 -> amp/in A-B]
      speaker-2.5-mm2: [amp/out A -> left, amp/out B -> right]

*Source*
Common practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from rigbook.checks.loudspeakers._where import bus_of, listed, unread
from rigbook.checks.loudspeakers.amp_too_large import TOLERANCE
from rigbook.compute.figure import Figure, value_of
from rigbook.compute.loads import AmpChannel, Driven
from rigbook.compute.results import results
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.graph.rig import Rig
from rigbook.plan.model import Bus
from rigbook.text.phrase import phrase

SEVERITY = Severity.WARNING
YIELDS_TO = ("amp-too-large", "bridge-misuse", "amp-underload")
SETTINGS = ("amplifier-most",)
LOUDEST_DBU = 24.0
"""No desk sends more (common practice): a threshold above it, before an amplifier turned far down, limits nothing."""


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each bus whose speakers want a limiter and have none."""
    got = results(rig)
    most = got.limits["amplifier-most"]
    guarded = any(p.limiter for ways in got.boxes.ways.values() for _, a in ways for _, p in a.stages)
    found: dict[tuple[str, str], list[tuple[AmpChannel, Driven, float]]] = {}
    for channel in got.amp_channels:
        for driven in channel.boxes:
            power, rated = value_of(driven.power), driven.continuous_w
            ways = got.boxes.ways.get(driven.box, ())
            if power is not None and driven.peak_w and 2 * power > TOLERANCE * driven.peak_w:
                continue  # `amp-too-large` speaks of it
            if power is None or not rated or not ways or power <= (1.0 if guarded else most) * rated + 0.5:
                continue
            for leg, arrival in ways:
                if not any(p.limiter for _, p in arrival.stages) and not unread(rig, leg, "limiter"):
                    bus = bus_of(rig, leg)
                    found.setdefault((bus.desk, bus.name), []).append((channel, driven, power))
                    break
    for key, hit in found.items():
        yield _finding(rig, rig.plan.buses[key], hit)


def _finding(rig: Rig, bus: Bus, hit: list[tuple[AmpChannel, Driven, float]]) -> Finding:
    channel, driven, power = hit[0]
    boxes = list(dict.fromkeys(d.box for _, d, _ in hit))
    level = channel.limiter_input
    fix = (
        phrase(
            "write `%(line)s` at `%(name)s`, or what the maker of the box says",
            line=f"limiter: {level}",
            name=bus.name,
        )
        if isinstance(level, Figure) and level.value <= LOUDEST_DBU
        else phrase("set a limiter, or what the maker of the box says")
    )
    return Finding(
        "limiter-missing",
        SEVERITY,
        phrase("no limiter between `%(bus)s` and %(names)s", bus=bus.name, names=listed(boxes)),
        Label(bus.span, phrase("no limiter here or further on")),
        (
            Label(
                rig.plan.units[channel.amplifier].span,
                phrase("gives `%(box)s` %(power)s W", box=driven.box, power=f"{power:.0f}"),
            ),
        ),
        effect=phrase(
            "`%(box)s` takes %(rated)s W for long, and can get %(power)s W",
            box=driven.box,
            rated=f"{driven.continuous_w:.0f}",
            power=f"{power:.0f}",
        ),
        remedy=fix,
        objects=frozenset({c.amplifier for c, _, _ in hit} | {c.socket for c, _, _ in hit}),
    )
