"""Random rigs that make sense, for property tests: written as plan text with kinds of their own.

`rigs()` is a strategy of hypothesis, which makes them smaller until a failure is plain; `seeded(n)` is the n-th of a
row that is the same everywhere, for what must hold of two hundred.
"""

from __future__ import annotations

import random
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

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
  outboard:
    is: processor
    title: outboard equipment
    ports:
      in A-B: {connector: xlr-female, level: line, direction: in}
      out A-B: {connector: xlr-male, level: line, direction: out}
    routes: [in A -> out A, in B -> out B]
  act:
    is: powered speaker
    title: powered speaker
    box: top
    ports:
      in: {connector: xlr-female, level: line, direction: in}
      link: {connector: xlr-male, level: line, direction: out}
  mic: {is: microphone, title: microphone, phantom: takes}
  condenser: {is: microphone, title: condenser microphone, phantom: needs}
  line-cable: {is: cable, title: line cable, carries: line, ends: [xlr-male, xlr-female]}
  spk-cable: {is: cable, title: speaker cable, carries: speaker, ends: [speaker-4-pole, speaker-4-pole]}
  net-cable: {is: cable, title: network cable, carries: network, ends: [rj45-locking, rj45-locking]}
"""


ROLES = ("mains", "mains", "subs", "monitor", "delay")
SETTINGS = (
    "", "", "low-cut: 100 Hz lr 24 dB/oct", "high-cut: 100 Hz lr 24 dB/oct", "delay: 7 ms", "polarity: reversed",
)


@dataclass(frozen=True)
class RandomRig:
    """The text of a plan."""

    text: str


@dataclass(frozen=True)
class Choose:
    """How a rig is drawn."""

    number: Callable[[int, int], int]
    """Between two numbers, both included."""
    some: Callable[[Sequence[int]], list[int]]
    """One or more of several."""

    def yes(self) -> bool:
        return bool(self.number(0, 1))

    def one(self, of: Sequence[Any]) -> Any:
        return of[self.number(0, len(of) - 1)]


@st.composite
def rigs(draw: st.DrawFn, most_buses: int = 6) -> RandomRig:
    """A desk, a stage box, some channels, some buses (stereo or not), each with amplifiers and chains of boxes."""
    return drawn(Choose(
        lambda low, high: draw(st.integers(low, high)),
        lambda of: draw(st.lists(st.sampled_from(of), min_size=1, unique=True)),
    ), most_buses)


def seeded(number: int, most_buses: int = 5) -> RandomRig:
    """The same rig for the same number, everywhere."""
    dice = random.Random(number)
    return drawn(Choose(dice.randint, lambda of: dice.sample(of, dice.randint(1, len(of)))), most_buses)


def drawn(choose: Choose, most_buses: int) -> RandomRig:
    """A rig as it is drawn."""
    buses = [choose.yes() for _ in range(choose.number(1, most_buses))]
    settings = [(choose.one(ROLES), choose.one(SETTINGS)) for _ in buses]
    legs = [f"b{i}{side}" for i, stereo in enumerate(buses) for side in ((" left", " right") if stereo else ("",))]
    units, outputs, lines, speakers = ["  desk: desk", "  box: box"], [], [], []
    for i, leg in enumerate(legs):
        outputs.append(f"  {leg}: box/out {i + 1}")
        names = [f"top-{i}-{j}" for j in range(choose.number(1, 3))]
        if choose.number(0, 3) == 0:
            units.append(f"  {', '.join(names)}: act")
            lines.append(f"    - box/out {i + 1} -> {' -> '.join(names)}, 10 m")
            continue
        units += [f"  amp-{i}: amp", f"  {', '.join(names)}: top"]
        lines.append(f"    - box/out {i + 1} -> amp-{i}/in A, 2 m")
        if choose.yes():
            units.append(f"  twin-{i}: top")
            lines.append(f"    - amp-{i}/link A -> amp-{i}/in B, 0.5 m")
            speakers.append(f"    - amp-{i}/out B -> twin-{i}, 9 m")
        speakers.append(f"    - amp-{i}/out A -> {' -> '.join(names)}, 9 m")
    channels = []
    for c in range(choose.number(1, 6)):
        to = ", ".join(f"b{t}" for t in choose.some(range(len(buses))))
        mic = choose.one(("mic", "condenser"))
        channels.append(f"  {c + 1}: {{name: Source {c + 1}, from: box/in {c + 1}, mic: {mic}, to: [{to}]}}")
    rows = []
    for i, (stereo, (role, setting)) in enumerate(zip(buses, settings, strict=True)):
        said = [f"role: {role}", *(["stereo: yes"] if stereo else []), *([setting] if setting else [])]
        rows.append(f"  b{i}: {{{', '.join(said)}}}")
    if choose.number(0, 2) == 0:
        _insert(choose, units, lines, channels, rows)
    text = [KINDS + "units:", *units, "inputs:", *channels, "buses:", *rows]
    text += ["outputs:", *outputs, "wiring:", "  net-cable:", "    - desk/net A -> box/net A, 30 m"]
    text += ["  line-cable:", *lines, *(["  spk-cable:", *speakers] if speakers else [])]
    return RandomRig("\n".join(text) + "\n")


def _insert(choose: Choose, units: list[str], lines: list[str], channels: list[str], buses: list[str]) -> None:
    """Outboard equipment in the insert of a channel or bus."""
    rows = choose.one((channels, buses))
    at = choose.number(0, len(rows) - 1)
    both = "stereo: yes" in rows[at]
    sockets = "1+2" if both else "1"
    rows[at] = f"{rows[at][:-1]}, insert: {{send: desk/out {sockets}, return: desk/line {sockets}}}}}"
    units.append("  outboard: outboard")
    for socket, side in (("1", "A"), ("2", "B"))[: 1 + both]:
        lines.append(f"    - desk/out {socket} -> outboard/in {side}, 2 m")
        lines.append(f"    - outboard/out {side} -> desk/line {socket}, 2 m")
