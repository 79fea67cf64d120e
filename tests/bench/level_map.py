"""The level map against its floor: 24 boxes, 2,000 places, 8 octave bands, in one process after numpy is imported.

The floor is the same direct sound in straight numpy on arrays of box x band x place, without objects, ranges or words;
it is written apart from the compiler, so that it is also an oracle for it (`tests/compute/test_level_map.py`).
"""

from __future__ import annotations

import statistics
import tempfile
import time
from pathlib import Path
from typing import Any

import numpy as np

from rigbook.compute.level_map import level_maps
from rigbook.compute.results import Results, results
from rigbook.compute.sources import Field
from rigbook.pipeline import compile_plan

TOPS, SUBS = 16, 8
CELSIUS, HUMIDITY_PCT = 20.0, 50.0
BANDS_HZ = 1000.0 * 10 ** (0.3 * np.arange(-4, 4))
A_WEIGHTS_DB = np.array([-26.2, -16.1, -8.6, -3.2, 0.0, 1.2, 1.0, -1.1])
"""IEC 61672-1:2013, table 3, as printed, so to 0.1 dB."""


def plan() -> str:
    """A plan of 24 boxes in front of an area of 39 by 49 m, which a grid of one metre fills with 2,000 places."""
    boxes = [f"  top-{i}: {{kind: powered-top-12, at: {abs(x):g} m {'left' if x < 0 else 'right'} 1 m out 5 m up, "
             f"aim: {abs(x):g} deg {'right' if x < 0 else 'left'}, tilt: 8 deg down}}"
             for i, x in enumerate(np.linspace(-19, 19, TOPS).round(1))]  # fmt: skip
    boxes += [f"  sub-{i}: {{kind: powered-sub-15, at: {i} m left 1 m out 0.4 m up}}" for i in range(SUBS)]
    return "\n".join([
        "plan: 1", "show: Level map", "units:", *boxes, "room:", "  mix-position: 30 m out",
        f"  temperature: {CELSIUS:g} degC", f"  humidity: {HUMIDITY_PCT:g} %",
        "  audience: {field: {from: 19.5 m left 4 m out, to: 19.5 m right 53 m out}}", "",
    ])  # fmt: skip


def compiled(text: str) -> Results:
    """The results of a plan given as text."""
    with tempfile.TemporaryDirectory() as folder:
        (Path(folder) / "plan.yaml").write_text(text, "utf-8")
        got = compile_plan(Path(folder) / "plan.yaml")
    assert got.rig is not None
    return results(got.rig)


def floor(boxes: dict[str, Any], points: Any) -> Any:
    """Level in each band at each place: distance, air, ellipse, energies; subs with their phases."""
    apart = points[None] - boxes["at"][:, None]
    turn, tilt = boxes["turn"][:, None], boxes["tilt"][:, None]
    level = apart[..., 0] * np.sin(turn) + apart[..., 1] * np.cos(turn)
    right = apart[..., 0] * np.cos(turn) - apart[..., 1] * np.sin(turn)
    up = apart[..., 2] * np.cos(tilt) - level * np.sin(tilt)
    ahead = level * np.cos(tilt) + apart[..., 2] * np.sin(tilt)
    beside = np.hypot(right, up)
    angle = np.degrees(np.arctan2(beside, ahead)) / np.where(beside == 0, 1, beside)
    metres = np.maximum(np.sqrt((apart**2).sum(-1)), 0.5)
    ellipse = ((angle * right)[:, None] * boxes["steep"][..., 0, None]) ** 2
    ellipse += ((angle * up)[:, None] * boxes["steep"][..., 1, None]) ** 2
    loss = np.minimum(20 * np.log10(2) * ellipse, 20) + boxes["air"][None, :, None] * metres[:, None]
    each = boxes["level"][..., None] - 20 * np.log10(metres)[:, None] - loss
    sub = boxes["sub"]
    energy = (10 ** (each[~sub] / 10)).sum(0)
    late = (metres / boxes["speed"] + boxes["late"][:, None])[sub]
    phase = np.exp(-2j * np.pi * BANDS_HZ[None, :, None] * late[:, None])
    energy += np.abs((10 ** (each[sub] / 20) * phase).sum(0)) ** 2
    return 10 * np.log10(energy)


def boxes_of(got: Results) -> dict[str, Any]:
    """The boxes of a plan as arrays, with the air of ISO 9613-1 and the speed of sound from the compiler."""
    from rigbook.physics.air_absorption import octave_band_coefficient
    from rigbook.physics.bands import OCTAVE_BANDS_HZ
    from rigbook.physics.speed_of_sound import speed_of_sound

    found, trims = got.levels.sources, got.levels.trims
    widths = np.array([s.widths for s in found])
    return {
        "at": np.array([s.spot for s in found]),
        "turn": np.radians([s.aim.turn for s in found]), "tilt": np.radians([s.aim.tilt for s in found]),
        "steep": np.where(widths >= 360, 0, 2 / widths),
        "level": np.array([s.levels for s in found]) + np.array([[trims[s.box.name]] for s in found]),
        "sub": np.array([s.box.is_sub for s in found]), "late": np.array([s.delay_s for s in found]),
        "air": np.array([octave_band_coefficient(hz, CELSIUS, HUMIDITY_PCT) for hz in OCTAVE_BANDS_HZ]),
        "speed": speed_of_sound(CELSIUS),
    }  # fmt: skip


def measure(times: int) -> tuple[float, float, float]:
    """Median ms of processor of the map, of its floor, and the median of their paired ratios."""
    got = compiled(plan())
    areas, trims = got.levels.areas, got.levels.trims
    field = Field(got.levels.sources, got.places)
    boxes = boxes_of(got)
    (only,) = level_maps(areas, field, trims)
    columns, rows = np.meshgrid(only.x, only.y)
    points = np.stack([columns, rows, np.full_like(rows, areas[0].ear_m)], -1).reshape(-1, 3)
    rounds = []
    for _ in range(times + 1):
        a = time.thread_time()
        level_maps(areas, field, trims)
        b = time.thread_time()
        floor(boxes, points)
        rounds.append((b - a, time.thread_time() - b))
    ours, theirs = zip(*rounds[1:], strict=True)
    return statistics.median(ours) * 1e3, statistics.median(theirs) * 1e3, statistics.median(
        x / y for x, y in rounds[1:])  # fmt: skip
