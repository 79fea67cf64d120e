"""A load below the least that the amplifier takes.

*What it finds*
Speakers on one amplifier channel whose impedances in parallel are below the least load that the amplifier takes in its
mode.

*Why it matters on stage*
The amplifier overheats, cuts out or breaks, mostly when the show is loudest.

*Put it right*
Spread the speakers over more channels, or use an amplifier that takes the load.

*Fails*
    plan: 1
    show: Fails
    units: {desk: desk-16, amp: amplifier-2x500, left: top-12, left-2: top-12, left-3: top-12, right: top-12}
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main}}
    buses: {main: {stereo: yes, limiter: +3 dBu}}
    outputs: {main left: desk/out 1, main right: desk/out 2}
    wiring:
      xlr: [desk/out 1-2 -> amp/in A-B]
      speaker-2.5-mm2: [amp/out A -> left, left/link -> left-2, left-2/link -> left-3, amp/out B -> right]

*Passes*
    plan: 1
    show: Passes
    units: {desk: desk-16, amp: amplifier-2x500, left: top-12, left-2: top-12, right: top-12}
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main}}
    buses: {main: {stereo: yes, limiter: +3 dBu}}
    outputs: {main left: desk/out 1, main right: desk/out 2}
    wiring:
      xlr: [desk/out 1-2 -> amp/in A-B]
      speaker-2.5-mm2: [amp/out A -> left, left/link -> left-2, amp/out B -> right]

*Source*
Ohm's law, 1/Z = Σ 1/Zi; the least load is the maker's rated value.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from rigbook.compute.figure import Missing
from rigbook.compute.results import results
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.graph.rig import Rig
from rigbook.text.phrase import phrase

SEVERITY = Severity.ERROR
YIELDS_TO = ("bridge-misuse",)
PLAIN: Final = phrase("%(load)s on `%(socket)s`, the amplifier takes no less than %(least)s")
IN_MODE: Final = phrase("%(load)s on `%(socket)s`, the amplifier takes no less than %(least)s in %(mode)s mode")


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each amplifier output with too low a load."""
    for channel in results(rig).amp_channels:
        load, least = channel.load, channel.minimum
        if isinstance(load, Missing) or isinstance(least, Missing) or load.value >= least.value - 0.01:
            continue
        yield Finding(
            "amp-underload",
            SEVERITY,
            phrase(
                IN_MODE if channel.mode else PLAIN,
                load=load.text,
                socket=channel.socket,
                least=least.text,
                mode=channel.mode,
            ),
            Label(
                rig.plan.units[channel.amplifier].span,
                phrase("output %(output)s is loaded with %(load)s", output=channel.output[4:], load=load.text),
            ),
            tuple(Label(rig.plan.units[d.box].span, phrase("one of its speakers")) for d in channel.boxes),
            effect=phrase("`%(amplifier)s` cuts out or breaks when it is driven hard", amplifier=channel.amplifier),
            remedy=phrase("move `%(box)s` to another channel", box=channel.boxes[-1].box)
            if len(channel.boxes) > 1
            else phrase(
                "take `%(amplifier)s` out of %(mode)s mode, or use a speaker of at least %(least)s",
                amplifier=channel.amplifier,
                mode=channel.mode,
                least=least.text,
            ),
            objects=frozenset({channel.socket, channel.amplifier, *(d.box for d in channel.boxes)}),
        )
