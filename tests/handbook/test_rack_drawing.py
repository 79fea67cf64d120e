"""Rack elevations: to scale by IEC 60297-3-100, and no name wider than its panel. Module rack of the drawings."""

from __future__ import annotations

import re

import pytest

from rigbook.handbook.drawings import rack, svg

LONG = """\
plan: 1
show: Long
units: {amp: {kind: amplifier-2x500, title: The amplifier of the loudspeakers on both sides of the main hall}}
racks: {side: {kind: rack-6u, front: {1: amp}, rear: {4: drawer 2 U}}}
"""


def test_a_unit_is_as_high_and_wide_as_the_standard_says(book) -> None:
    drawn = rack.draw(book(LONG).rig, "side", "front")
    ((wide, high),) = re.findall(r'<rect [^>]*width="([\d.]+)" height="([\d.]+)"[^>]* class="rack-unit"', drawn)
    units = rack.unit_height(book(LONG).rig, "amp")
    assert (float(high) + 2) / float(wide) == pytest.approx(units * 44.45 / 482.6, rel=0.01)


def test_front_and_rear_show_what_is_seen_from_there(book) -> None:
    front, rear = (rack.draw(book(LONG).rig, "side", side) for side in ("front", "rear"))
    assert "rack-unit" in front
    assert "rack-back" in rear
    assert "drawer" in rear
    assert "<desc" in front


def test_a_name_that_is_too_long_is_drawn_to_the_width_of_its_panel(book) -> None:
    drawn = rack.draw(book(LONG).rig, "side", "front")
    (width,) = re.findall(r'textLength="([\d.]+)"', drawn)
    assert float(width) == pytest.approx(482.6 * rack.SCALE - 24, abs=0.1)
    assert "textLength" not in svg.text(0, 0, "amp", most=100)
