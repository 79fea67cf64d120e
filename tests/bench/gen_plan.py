"""Write an invented plan of about N items, the same at every call.

usage: gen_plan.py ITEMS OUT.yaml [--shared-bus]
       gen_plan.py ITEMS FOLDER --count N

A plan is made of zones of 150 items (48 channels, 10 buses, 11 outputs, 6 amplifiers, 11 speakers, 22 cables, racks,
circuits, places, notes); a larger one repeats the zone, so that size grows and what one source reaches does not.
`--shared-bus` sends every channel to one bus that leaves in every zone: what a source reaches then grows as well.
The plan brings its own kinds, so that a change of the gear library changes no measurement.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator
from pathlib import Path

ZONE = 150
"""Items in a zone."""
NAMES = ("Fiddle", "Upright", "Banjo", "Voice", "Guitar", "Accordion", "Whistle", "Snare", "Kick", "Hat", "Tom 1",
         "Tom 2", "Overhead L", "Overhead R", "Bass", "Keys L", "Keys R", "Harp", "Cello", "Viola", "Horn", "Reed")
SECTIONS = ("units", "inputs", "buses", "outputs", "xlr", "speaker", "network", "racks", "circuits", "notes")
OUTPUTS = (("main left", 11), ("main right", 12), ("subs", 9), *((f"mix-{i}", 12 + i) for i in range(1, 9)))
"""Bus leg and socket of the stage box, for one zone."""

KINDS = """\
kinds:
  bench-desk:
    is: desk
    title: desk for measurements
    channels: {channels}
    buses: {buses}
    full-scale: +21 dBu
    preamp-gain: 0 dB - 60 dB
    filters: [lr 24 dB/oct]
    ports:
      line 1-{lines}: {{connector: jack-balanced, level: line, direction: in}}
      net 1-{sockets}: {{connector: rj45-locking, level: network, direction: both}}
  bench-box:
    is: stage box
    title: stage box, 48 in, 32 out
    ports:
      in 1-48: {{connector: xlr-female, level: mic or line, direction: in, phantom: yes, pad: yes}}
      out 1-32: {{connector: xlr-male, level: line, direction: out}}
      net A: {{connector: rj45-locking, level: network, direction: both}}
  bench-amp:
    is: amplifier
    title: amplifier, 2 x 400 W at 8 ohm
    height: 2 U
    depth: 400 mm
    weight: 9 kg
    power: {{8 ohm: 400 W}}
    minimum-load: 4 ohm
    gain: 32 dB
    draw-idle: 40 W
    draw-eighth: 250 W
    draw-full: 1300 W
    ports:
      in A-B: {{connector: xlr-female, level: line, direction: in}}
      out A-B: {{connector: speaker-4-pole, level: speaker, direction: out}}
  bench-top:
    is: speaker
    title: top, 12 inch
    box: top
    impedance: 8 ohm
    rated-power: 300 W
    peak-power: 1200 W
    sensitivity: 98 dB
    coverage: 90 x 60 deg
    weight: 18 kg
    ports:
      in 1: {{connector: speaker-4-pole, level: speaker, direction: in}}
"""


def _zone(z: int, shared_bus: bool, out: dict[str, list[str]]) -> None:
    p = f"z{z}-" if z else ""
    out["network"].append(f"desk/net {z + 1} -> {p}box/net A, 30 m")
    out["units"].append(f"{p}box: {{kind: bench-box, at: \"2 m left, {z * 10 + 1} m back\"}}")
    _channels(z, p, shared_bus, out)
    out["buses"] += [f"{p}main: {{role: mains, stereo: yes, low-cut: 100 Hz lr 24 dB/oct}}",
                     f"{p}subs: {{role: subs, high-cut: 100 Hz lr 24 dB/oct}}",
                     *(f"{p}mix-{i}: {{monitor-for: {NAMES[i - 1]}}}" for i in range(1, 9))]
    for k, (leg, socket) in enumerate(OUTPUTS):
        amp, side = f"{p}amp-{k // 2 + 1}", "AB"[k % 2]
        out["outputs"].append(f"{p}{leg}: {p}box/out {socket}")
        out["xlr"].append(f"{p}box/out {socket} -> {amp}/in {side}, 3 m")
        out["speaker"].append(f"{amp}/out {side} -> {p}box-{k + 1}, {8 + k} m")
        kind = "bench-top" if k < 2 else "bench-sub" if k == 2 else "bench-wedge"
        left = k < 5 and k != 1  # the right top stands right
        where, aim = f"{abs(k - 5)}.5 m {'left' if left else 'right'}", f"{k * 3} deg {'right' if left else 'left'}"
        out["units"].append(f"{p}box-{k + 1}: {{kind: {kind}, at: \"{where}, {z * 10 + k % 4} m back, 1.{k} m up\","
                            f" aim: {aim}}}")
    for a in range(1, 7):
        out["units"].append(f"{p}amp-{a}: bench-amp")
    for r in range(1, 4):
        out["racks"].append(f"{p}rack-{r}: {{kind: bench-rack, front: {{1: {p}amp-{2 * r - 1}, 4: {p}amp-{2 * r}}}}}")
        out["circuits"].append(f"{p}stage-{r}: {{supply: house, rating: 16 A, feeds: [{p}amp-{2 * r - 1},"
                               f" {p}amp-{2 * r}{f', {p}box' if r == 1 else ''}]}}")
    out["notes"] += _notes(z)


def _channels(z: int, p: str, shared_bus: bool, out: dict[str, list[str]]) -> None:
    for c in range(1, 49):
        sends = [f"{p}main", f"{p}mix-{c % 8 + 1} -{c % 7 + 1} dB"]
        sends += [f"{p}subs -3 dB"] if c % 3 == 0 else []
        sends += ["grand"] if shared_bus else []
        name = f"{NAMES[(c - 1) % len(NAMES)]} {c}{f' zone {z}' if z else ''}"
        what = f"from: desk/line {c - 46 + 2 * z}, line: bench-line"
        if c <= 46:
            mic = "mic: bench-condenser, phantom: yes" if c % 2 else "mic: bench-dynamic"
            what = f"from: {p}box/in {c}, {mic}, low-cut: {60 + c * 5 % 90} Hz, cable: {4 + c % 9} m"
        out["inputs"].append(f"{c + 48 * z}: {{name: {name}, {what}, to: [{', '.join(sends)}]}}")


def _notes(z: int) -> Iterator[str]:
    yield f"Load-in {z}: |"
    yield from (f"  {line}".rstrip() for line in (
        "The dock is **two steps** below the stage. Ask the house for the ramp, then:", "",
        "- cases to stage left first", "- racks stay on wheels until *power* is checked", "- keep the fire door clear",
        "", "| when | what | who |", "|---|---|---|", *(f"| 1{i}:00 | step {i} of the day | crew {i % 3} |"
                                                         for i in range(8)),
        "", "1. Place", "2. Rack", "3. Connect", "", "The `main` bus is walked first, the mixes after it.", ""))


def _more_kinds() -> str:
    speaker = ("is: speaker, impedance: 8 ohm, rated-power: 300 W, peak-power: 1200 W, sensitivity: 98 dB, "
               "coverage: 90 x 60 deg, weight: 18 kg, "
               "ports: {in 1: {connector: speaker-4-pole, level: speaker, direction: in}}")
    return (f"  bench-sub: {{title: sub, box: sub, {speaker}}}\n"
            f"  bench-wedge: {{title: wedge, box: wedge, {speaker}}}\n"
            "  bench-rack: {is: rack, title: rack of 12 units, height: 12 U, inside-depth: 500 mm, load: 100 kg}\n"
            "  bench-condenser: {is: microphone, title: condenser microphone, phantom: needs}\n"
            "  bench-dynamic: {is: microphone, title: dynamic microphone}\n"
            "  bench-line: {is: line source, title: line source}\n"
            "  bench-xlr: {is: cable, title: balanced line, ends: [xlr-female, xlr-male]}\n"
            "  bench-speaker: {is: cable, title: speaker cable, ends: [speaker-4-pole, speaker-4-pole],"
            " area: 2.5 mm2}\n"
            "  bench-network: {is: cable, title: network cable, ends: [rj45-locking, rj45-locking]}\n")


def plan(items: int = ZONE, shared_bus: bool = False, title: str = "Lantern supper") -> str:
    """The text of a plan of about `items` items."""
    zones = max(1, round(items / ZONE))
    out: dict[str, list[str]] = {name: [] for name in SECTIONS}
    out["units"].append("desk: {kind: bench-desk, at: 14 m out}")
    for z in range(zones):
        _zone(z, shared_bus, out)
    if shared_bus:
        out["buses"].append("grand: {role: record}")
        for z in range(zones):
            p = f"z{z}-" if z else ""
            out["units"].append(f"{p}recorder: recorder-2")
            out["xlr"].append(f"{p}box/out 30 -> {p}recorder/in 1, 3 m")
        out["outputs"].append("grand: [" + ", ".join(f"{f'z{z}-' if z else ''}box/out 30" for z in range(zones)) + "]")
    kinds = KINDS.format(channels=50 * zones, buses=12 * zones + 2, lines=2 * zones, sockets=zones + 1)
    lines = ["plan: 1", f"show: {title}", "date: 2027-02-06", kinds.rstrip(), _more_kinds().rstrip()]
    for name in ("units", "inputs", "buses", "outputs"):
        lines += [f"{name}:", *(f"  {line}" for line in out[name])]
    lines += ["wiring:"]
    for cable, name in (("bench-xlr", "xlr"), ("bench-speaker", "speaker"), ("bench-network", "network")):
        lines += [f"  {cable}:", *(f"    - {line}" for line in out[name])]
    lines += ["racks:", *(f"  {line}" for line in out["racks"])]
    lines += ["power:", f"  supplies: {{house: {{rating: {min(63 * zones, 5000)} A}}}}", "  circuits:",
              *(f"    {line}" for line in out["circuits"])]
    lines += ["notes:", *(f"  {line}".rstrip() for line in out["notes"])]
    return "\n".join(lines) + "\n"


def write_many(items: int, folder: Path, count: int) -> list[Path]:
    """`count` plans that differ in their title, in `folder`."""
    folder.mkdir(parents=True, exist_ok=True)
    files = [folder / f"plan-{n:04}.yaml" for n in range(count)]
    for n, file in enumerate(files):
        file.write_text(plan(items, title=f"Lantern supper {n:04}"), "utf-8")
    return files


if __name__ == "__main__":
    if "--count" in sys.argv:
        write_many(int(sys.argv[1]), Path(sys.argv[2]), int(sys.argv[sys.argv.index("--count") + 1]))
    else:
        Path(sys.argv[2]).write_text(plan(int(sys.argv[1]), "--shared-bus" in sys.argv), "utf-8")
