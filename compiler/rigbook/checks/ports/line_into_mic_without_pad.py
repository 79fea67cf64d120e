"""A line where a microphone is expected.

*What it finds*
A signal at line level that comes to an input for microphone level, and no pad is switched in: the channel does not say
`pad: yes`, or the socket has none.

*Why it matters on stage*
The input is overdriven before any fader: it distorts, however low the channel is set.

*Put it right*
Write `pad: yes` at the channel, use a line input, or go through a passive DI.

*Fails*
    plan: 1
    show: Fails
    kinds:
      small-mixer:
        is: desk
        title: small mixer
        channels: 4
        buses: 2
        ports:
          mic 1-4: {connector: xlr-female, level: mic, direction: in, phantom: yes, pad: yes}
          out 1-2: {connector: xlr-male, level: line, direction: out}
    units: {mixer: small-mixer, left: powered-top-12}
    inputs: {1: {name: Modeller, from: mixer/mic 1, line: modeller, source: instrument, to: main}}
    buses: {main: {}}
    outputs: {main: mixer/out 1}
    wiring: {xlr: [mixer/out 1 -> left/in]}

*Passes*
    plan: 1
    show: Passes
    kinds:
      small-mixer:
        is: desk
        title: small mixer
        channels: 4
        buses: 2
        ports:
          mic 1-4: {connector: xlr-female, level: mic, direction: in, phantom: yes, pad: yes}
          out 1-2: {connector: xlr-male, level: line, direction: out}
    units: {mixer: small-mixer, left: powered-top-12}
    inputs: {1: {name: Modeller, from: mixer/mic 1, line: modeller, source: instrument, pad: yes, to: main}}
    buses: {main: {}}
    outputs: {main: mixer/out 1}
    wiring: {xlr: [mixer/out 1 -> left/in]}

*Source*
Common practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from rigbook.checks.ports._levels import levels
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.graph import kinds as k
from rigbook.graph.rig import Rig
from rigbook.plan.model import Channel
from rigbook.text.phrase import phrase

SEVERITY = Severity.WARNING
YIELDS_TO = ("connector-mismatch", "wrong-direction")


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each socket at microphone level that a line comes to."""
    at = levels(rig)
    for node, data in rig.net.nodes.items():
        port = data.get("port")
        if port is None or port.level != "mic" or port.direction == "out" or "line" not in at.get(node, ()):
            continue
        listening = [d["channel"] for _, d in rig.edges_out(node) if d["kind"] == k.LISTEN]
        if port.pad and listening and all(c.record.get("pad") for c in listening):
            continue
        yield _finding(rig, node, listening, port.pad)


def _finding(rig: Rig, node: str, listening: list[Channel], pad: bool) -> Finding:
    edge, data = next(iter(rig.edges_in(node)))
    what = data["channel"].name if data.get("channel") else edge[0]
    channel = next((c for c in listening if not c.record.get("pad")), None)
    fix = phrase("use a line input, or go through a passive DI")
    if pad:
        fix = (
            phrase("write `pad: yes` at channel %(number)s", number=channel.number)
            if channel
            else phrase("switch its pad in")
        )
    return Finding(
        "line-into-mic-without-pad",
        SEVERITY,
        phrase(
            "`%(what)s` comes at line level into the microphone input `%(node)s`, without a pad", what=what, node=node
        ),
        Label(data["span"], phrase("made for microphone level")),
        effect=phrase("the input distorts, however low the fader is"),
        remedy=fix,
        objects=frozenset({node}),
    )
