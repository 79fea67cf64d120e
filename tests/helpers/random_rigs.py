"""Random rigs that make sense, for property tests: written as plan text with kinds of their own."""

from __future__ import annotations

from dataclasses import dataclass

from hypothesis import strategies as st

KINDS = """\
plan: 1
show: Random rig
kinds:
  desk:
    is: desk
    title: desk
    channels: 64
    buses: 64
    ports:
      line 1-8: {connector: combo, level: mic or line, direction: in, phantom: yes}
      out 1-8: {connector: xlr-male, level: line, direction: out}
      net A-B: {connector: rj45-locking, level: network, direction: both}
  box:
    is: stage box
    title: stage box
    ports:
      in 1-64: {connector: xlr-female, level: mic or line, direction: in, phantom: yes}
      out 1-64: {connector: xlr-male, level: line, direction: out}
      net A-B: {connector: rj45-locking, level: network, direction: both}
  amp:
    is: amplifier
    title: amplifier
    ports:
      in A-B: {connector: xlr-female, level: line, direction: in}
      link A-B: {connector: xlr-male, level: line, direction: out}
      out A-B: {connector: speaker-4-pole, level: speaker, direction: out}
  top:
    is: speaker
    title: top
    box: top
    ports:
      in: {connector: speaker-4-pole, level: speaker, direction: in}
      link: {connector: speaker-4-pole, level: speaker, direction: out}
  mic: {is: microphone, title: microphone, phantom: takes}
  line-cable: {is: cable, title: line cable, carries: line, ends: [xlr-male, xlr-female]}
  spk-cable: {is: cable, title: speaker cable, carries: speaker, ends: [speaker-4-pole, speaker-4-pole]}
  net-cable: {is: cable, title: network cable, carries: network, ends: [rj45-locking, rj45-locking]}
"""


@dataclass(frozen=True)
class RandomRig:
    """The text of a plan."""

    text: str


@st.composite
def rigs(draw: st.DrawFn, most_buses: int = 6) -> RandomRig:
    """A desk, a stage box, some channels, some buses (stereo or not), each with amplifiers and chains of boxes."""
    buses = draw(st.lists(st.booleans(), min_size=1, max_size=most_buses))
    legs = [f"b{i}{side}" for i, stereo in enumerate(buses) for side in ((" left", " right") if stereo else ("",))]
    chains = [draw(st.integers(1, 3)) for _ in legs]
    channels = draw(st.integers(1, 6))
    sends = [draw(st.lists(st.sampled_from(range(len(buses))), min_size=1, unique=True)) for _ in range(channels)]
    units, outputs, lines, speakers = ["  desk: desk", "  box: box"], [], [], []
    for i, (leg, length) in enumerate(zip(legs, chains, strict=True)):
        units.append(f"  amp-{i}: amp")
        names = [f"top-{i}-{j}" for j in range(length)]
        units.append(f"  {', '.join(names)}: top")
        outputs.append(f"  {leg}: box/out {i + 1}")
        lines.append(f"    - box/out {i + 1} -> amp-{i}/in A, 2 m")
        if draw(st.booleans()):
            units.append(f"  twin-{i}: top")
            lines.append(f"    - amp-{i}/link A -> amp-{i}/in B, 0.5 m")
            speakers.append(f"    - amp-{i}/out B -> twin-{i}, 9 m")
        speakers.append(f"    - amp-{i}/out A -> {' -> '.join(names)}, 9 m")
    text = [KINDS + "units:", *units, "inputs:"]
    for c, targets in enumerate(sends):
        to = ", ".join(f"b{t}" for t in targets)
        text.append(f"  {c + 1}: {{name: Source {c + 1}, from: box/in {c + 1}, mic: mic, to: [{to}]}}")
    text.append("buses:")
    text += [f"  b{i}: {{role: mains{', stereo: yes' if stereo else ''}}}" for i, stereo in enumerate(buses)]
    text += ["outputs:", *outputs, "wiring:", "  net-cable:", "    - desk/net A -> box/net A, 30 m"]
    text += ["  line-cable:", *lines, "  spk-cable:", *speakers]
    return RandomRig("\n".join(text) + "\n")
