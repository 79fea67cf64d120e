"""Twelve unlike mistakes in one plan are twelve findings in one run, each in its place, and nothing else."""

from __future__ import annotations

from pathlib import Path

from helpers.check_pages import compile_text, places, printed, split

PLAN = """\
plan: 1
show: Twelve mistakes
dors: 18:30  # finding: unknown-key
room: {temperature: 20 m}  # finding: wrong-unit
units:
  desk: desk-16
  box: stage-box-16
  amp-tops, amp-wedges: amplifier-2x500
  top-left: {kind: top-12, side: left}
  top-right: {kind: top-12, side: right}
  wedge-1, wedge-2: wedge-12
  second-wedge: {kind: wedge-12, spare: jes}  # finding: wrong-value
  player: player-2
inputs:
  1: {name: Voice, from: box/in 1, mic: dynamic-vocel, source: vocal, to: [main, mix-1]}  # finding: unknown-name
  2: {name: Fiddle, from: box/in 2, mic: condenser-clip, to: [main, mix-2]}  # finding: phantom-missing
  3: {name: Whistle, from: box/in 2, mic: dynamic-vocal, source: instrument, to: main}  # finding: double-patched-input
  4: {name: Cornet, from: box/in 4, mic: ribbon-passive, phantom: yes, to: main}  # finding: phantom-unwanted
  9: {name: Music, from: desk/line 1+2, source: playback, to: main}
buses:
  main: {stereo: yes, low-cut: 100 Hz lr 24 dB/oct, limiter: +3 dBu}
  mix-1: {monitor-for: Voice, limiter: +3 dBu}
  mix-2: {monitor-for: Fiddle, limiter: +3 dBu}
outputs:
  main left: box/out 7  # finding: swapped-sides
  main right: box/out 8
  mix-1: box/out 1
  mix-2: box/out 2
wiring:
  network:
    - desk/net A -> box/net A, 130 m  # finding: network-cable-too-long
  xlr:
    - box/out 7-8 -> amp-tops/in A-B, 2 m
    - box/out 1 -> amp-wedges/in A, 2 m
    - box/out 3 -> amp-wedges/in B, 2 m  # finding: unfed-output
    - player/out 1-2 -> desk/line 1-2, 2 m
  speaker-4-mm2:
    - amp-tops/out A -> top-right, 15 m
    - amp-tops/out B -> top-left, 10 m
  xlr-to-jack:
    - amp-wedges/out A -> wedge-1, 10 m  # finding: connector-mismatch
  speaker-2.5-mm2:
    - amp-wedges/out B -> wedge-2, 10 m
exceptions:
  - {check: shared-output, at: box/out 4, reason: It was so last year.}  # finding: unused-exception
"""


def test_twelve_mistakes_are_twelve_findings(tmp_path: Path) -> None:
    expected = split(PLAN)[1]
    assert len(expected) == len({check for _, _, check in expected}) == 12
    compiled = compile_text(PLAN, tmp_path)
    assert places(compiled) == expected, printed(compiled)


def test_every_one_of_them_alone_is_one(tmp_path: Path) -> None:
    """Put right one after the other, from the last to the first: each time one finding fewer, until none is left."""
    text = PLAN
    for number, (wrong, right) in enumerate(RIGHT, 1):
        assert wrong in text
        text = text.replace(wrong, right)
        compiled = compile_text(text, tmp_path / str(number))
        assert len(compiled.findings) == 12 - number, printed(compiled)


RIGHT = (
    ("exceptions:\n  - {check: shared-output, at: box/out 4, reason: It was so last year.}", "date: 2027-02-06"),
    ("  xlr-to-jack:\n", "  speaker-4-mm2-2-pole:\n"),
    (
        "out A -> top-right, 15 m\n    - amp-tops/out B -> top-left, 10 m",
        "out A -> top-left, 15 m\n    - amp-tops/out B -> top-right, 10 m",
    ),
    ("box/out 3 -> amp-wedges", "box/out 2 -> amp-wedges"),
    ("net A, 130 m", "net A, 30 m"),
    ("ribbon-passive, phantom: yes,", "ribbon-passive,"),
    ("3: {name: Whistle, from: box/in 2", "3: {name: Whistle, from: box/in 3"),
    ("condenser-clip, to", "condenser-clip, phantom: yes, to"),
    ("dynamic-vocel", "dynamic-vocal"),
    ("spare: jes", "spare: yes"),
    ("20 m}", "20 degC}"),
    ("dors", "doors"),
)
