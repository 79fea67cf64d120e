"""`rigbook new`: write a small, commented, clean plan to begin with."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

PLAN = """\
# A plan says what the system is. Change a line, then run:  rigbook check .
# Every key is explained in the language reference:         rigbook schema --reference
plan: 1
show: My first show
date: 2027-05-01
doors: 19:00

room:
  stage: 6 x 4 x 0.6 m
  mix-position: 10 m out 1.2 m up
  audience:
    floor: {from: 4 m left 2 m out, to: 4 m right 10 m out}

# Every piece of equipment: its name, its kind (rigbook explain gear), where it stands.
# Left and right are as seen from the audience; out is towards it, back is upstage.
units:
  desk: {kind: desk-16, at: 10 m out 0.9 m up}
  box: {kind: stage-box-16, at: 2.5 m right 3 m back 0.6 m up}
  top-left: {kind: powered-top-12, at: 3.5 m left 0.5 m out 2.3 m up, aim: 15 deg right, tilt: 8 deg down, mount: stand, stand: speaker-stand}
  top-right: {kind: powered-top-12, at: 3.5 m right 0.5 m out 2.3 m up, aim: 15 deg left, tilt: 8 deg down, mount: stand, stand: speaker-stand}
  wedge: {kind: powered-wedge-12, at: 0.4 m back 0.7 m up, aim: back, tilt: 40 deg up, mount: ground}

# Channels by number: what is plugged where, and where it is sent.
inputs:
  1: {name: Voice, from: box/in 1, mic: dynamic-vocal, source: vocal, stand: boom-stand, low-cut: 100 Hz, at: 1.5 m back 2.2 m up, to: [main, mix-1 -6 dB]}
  2: {name: Guitar, from: box/in 2, di: di-active, line: acoustic-pickup, phantom: yes, source: instrument, at: 1.5 m back 1.8 m up, to: [main, mix-1 -3 dB]}
  9: {name: Music, from: desk/line 9+10, line: interface-2, source: playback, to: main -10 dB}

buses:
  main: {stereo: yes, low-cut: 60 Hz butterworth 12 dB/oct}
  mix-1: {monitor-for: Voice}

# Which socket each bus leaves by.
outputs:
  main left: box/out 7
  main right: box/out 8
  mix-1: box/out 1

# Cables, under their kind: from -> to, length.
wiring:
  network: ["desk/net A -> box/net A, 20 m"]
  xlr:
    - box/out 7 -> top-left/in, 10 m
    - box/out 8 -> top-right/in, 5 m
    - box/out 1 -> wedge/in, 5 m

power:
  supplies:
    house: {rating: 32 A}
  circuits:
    stage: {supply: house, rating: 16 A, feeds: [box, top-left, top-right, wedge]}
    rear: {supply: house, rating: 16 A, feeds: desk}

contacts:
  Sound: {name: Write a name here, does: the sound, for: guest}

notes:
  To do: Say here what the next person must know.
"""


def options(parser: argparse.ArgumentParser) -> None:
    """Arguments of the command."""
    parser.add_argument("folder", type=Path, help="folder to write into; made if it is not there")


def run(args: argparse.Namespace) -> int:
    """Write `plan.yaml`. 0: written; 2: there is one already, or the folder cannot be written."""
    target = args.folder / "plan.yaml"
    try:
        args.folder.mkdir(parents=True, exist_ok=True)
        with target.open("x", encoding="utf-8", newline="\n") as file:
            file.write(PLAN)
    except FileExistsError:
        print(f"`{target}` is there already; nothing was written", file=sys.stderr)
        return 2
    except OSError as error:
        print(f"`{target}` cannot be written: {error.strerror}", file=sys.stderr)
        return 2
    print(f"wrote {target}")
    print(f"  rigbook check {args.folder}\n  rigbook build {args.folder} --out handbook")
    return 0
